// Shared by all widgets of a lesson.
let count = 0;

function make(tag, properties = {}, ...children) {
  const element = Object.assign(document.createElement(tag), properties);
  element.append(...children);
  return element;
}

function prepare(el) {
  el.classList.add("coldbench");
  // JupyterLab keeps keys (arrows among them) for itself unless told to let them through.
  el.dataset.lmSuppressShortcuts = "true";
}

