// The live picture: native controls, the picture, its twin in words. All numbers come from Python.
const QUIET = 700; // ms without a change before the twin is announced

function control(row, at, moved) {
  const id = `coldbench-control-${++count}`;
  const label = make("label", { htmlFor: id, textContent: row.label });
  if (row.form === "choice") {
    const options = row.texts.map((text, number) => make("option", { value: number, textContent: text }));
    const select = make("select", { id }, ...options);
    select.value = at;
    select.addEventListener("change", () => moved(Number(select.value)));
    return { row: make("div", { className: "coldbench-row" }, label, select), show: (to) => (select.value = to) };
  }
  const input = make("input", { id, type: "range", min: 0, max: row.texts.length - 1, step: 1 });
  const shown = make("span", { className: "coldbench-value" });
  shown.setAttribute("aria-hidden", "true");
  const show = (to) => {
    input.value = to;
    input.setAttribute("aria-valuetext", row.texts[to]);
    shown.textContent = row.texts[to];
  };
  input.setAttribute("aria-label", row.label);
  input.addEventListener("input", () => {
    show(Number(input.value));
    moved(Number(input.value));
  });
  show(at);
  return { row: make("div", { className: "coldbench-row" }, label, input, shown), show };
}

function render({ model, el }) {
  el.classList.add("coldbench");
  el.setAttribute("role", "group");
  el.setAttribute("aria-label", model.get("title"));

  const controls = model.get("rows").map((row, number) =>
    control(row, model.get("positions")[number], (to) => {
      const positions = [...model.get("positions")];
      positions[number] = to;
      model.set("positions", positions);
      model.save_changes();
    }),
  );
  const picture = make("div", { className: "coldbench-picture" });
  const twin = make("p", { className: "coldbench-twin" });
  const spoken = make("div", { className: "coldbench-spoken" });
  spoken.setAttribute("aria-live", "polite");

  let waiting;
  const draw = () => {
    picture.innerHTML = model.get("svg");
    twin.textContent = together(model.get("twin"));
  };
  const changed = () => {
    draw();
    clearTimeout(waiting);
    waiting = setTimeout(() => (spoken.textContent = model.get("twin")), QUIET);
  };
  const follow = () => model.get("positions").forEach((to, number) => controls[number].show(to));
  draw();
  model.on("change:svg change:twin", changed);
  model.on("change:positions", follow);
  el.append(...controls.map((one) => one.row), picture, twin, spoken);
  return () => {
    clearTimeout(waiting);
    model.off("change:svg change:twin", changed);
    model.off("change:positions", follow);
  };
}

export default { render };
