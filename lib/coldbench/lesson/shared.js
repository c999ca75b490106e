// Shared by all widgets of a lesson.
let count = 0;

function make(tag, properties = {}, ...children) {
  const element = Object.assign(document.createElement(tag), properties);
  element.append(...children);
  // JupyterLab keeps arrows, Enter and other keys for itself unless the element itself says so.
  if (["input", "select", "button"].includes(tag)) element.dataset.lmSuppressShortcuts = "true";
  return element;
}

// Saving (Ctrl+S) and the like (Ctrl+Shift and a letter) stay JupyterLab's, wherever one is; Escape leads back
// to the cell, as it does from its text.
if (!window.coldbenchListens) {
  window.coldbenchListens = true;
  const listen = (event) => {
    const own = event.target.closest?.(".coldbench :is(input, select, button)");
    const theirs = (event.ctrlKey || event.metaKey) && (event.shiftKey || event.key === "s");
    own?.toggleAttribute("data-lm-suppress-shortcuts", !theirs);
    if (own && event.key === "Escape") own.closest(".jp-Cell")?.focus();
  };
  window.addEventListener("keydown", listen, true);
}

// A number and its unit stay on one line.
const together = (text) => text.replace(/(\d) (?=°|psi|inHg|kPa|kJ|kWh|K\b|ft\b|rpm\b|lb\b|Btu|Ω|kΩ|%|W\b|V\b|g\b|kg\b)/g, "$1\u00a0");

