// A question with a field or choices; the reply comes from Python and is announced politely.
function field(model, id) {
  const input = make("input", { id, type: "text", autocomplete: "off", spellcheck: false });
  input.addEventListener("keydown", (event) => {
    if (event.key === "Enter") {
      event.preventDefault(); // JupyterLab would keep the browser from sending the form
      input.form.requestSubmit();
    }
  });
  const label = make("label", { htmlFor: id, className: "coldbench-question", textContent: together(model.get("question")) });
  const parts = [label];
  if (model.get("hint")) {
    const hint = make("p", { id: `${id}-hint`, className: "coldbench-hint", textContent: together(model.get("hint")) });
    input.setAttribute("aria-describedby", hint.id);
    parts.push(hint);
  }
  return {
    parts, beside: [input],
    typed: () => input.value,
    show: (typed) => (input.value = typed),
  };
}

function choices(model, id) {
  const inputs = model.get("choices").map((text) => make("input", { type: "radio", name: id, value: text }));
  const rows = inputs.map((input) => make("label", { className: "coldbench-choice" }, input, make("span", { textContent: together(input.value) })));
  const legend = make("legend", { textContent: together(model.get("question")) });
  return {
    parts: [make("fieldset", {}, legend, ...rows)], beside: [],
    typed: () => inputs.find((input) => input.checked)?.value ?? "",
    show: (typed) => inputs.forEach((input) => (input.checked = input.value === typed)),
  };
}

function render({ model, el }) {
  el.classList.add("coldbench");
  const id = `coldbench-question-${++count}`;
  const asked = model.get("choices").length ? choices(model, id) : field(model, id);
  const button = make("button", { type: "submit", textContent: model.get("button") });
  const reply = make("p", { className: "coldbench-reply" });
  reply.setAttribute("aria-live", "polite");

  const form = make("form", {}, ...asked.parts, make("div", { className: "coldbench-entry" }, ...asked.beside, button));
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    model.send({ typed: asked.typed() });
  });
  const answered = () => {
    reply.dataset.mood = model.get("mood");
    reply.textContent = together(model.get("reply"));
  };
  const typed = () => asked.show(model.get("typed"));
  typed();
  answered();
  model.on("change:reply change:mood", answered);
  model.on("change:typed", typed);
  el.append(form, reply);
  return () => {
    model.off("change:reply change:mood", answered);
    model.off("change:typed", typed);
  };
}

export default { render };
