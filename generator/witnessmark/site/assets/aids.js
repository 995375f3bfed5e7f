"use strict";
// The same formulas as the pack's own: each takes the inputs in the order of its working and gives NaN for a value
// that cannot be.
const G = 9.80665;
const area = (bore) => (Math.PI / 4) * bore ** 2;
const ok = (good, value) => (good && Number.isFinite(value) ? value : NaN);
const between = (points, celsius) => {
  for (let n = 0; n < points.length; n += 1) {
    const [t2, p2] = points[n];
    if (celsius === t2) return p2;
    if (n === 0) continue;
    const [t1, p1] = points[n - 1];
    if (t1 < celsius && celsius < t2) return p1 + ((celsius - t1) / (t2 - t1)) * (p2 - p1);
  }
  return NaN;
};
const formulas = {
  "drain-time": (bore, high, low, drain, cd) =>
    ok(bore > 0 && high >= low && drain > 0 && cd > 0 && cd <= 1,
      ((2 * area(bore)) / (cd * area(drain))) * Math.sqrt((high - low) / (2 * G))),
  expansion: (length, alpha, start, end) =>
    ok(length >= 0 && alpha > 0 && start > -273.15 && end > -273.15, (length * alpha * (end - start)) / 1000),
  dose: (litres, percent) => ok(litres >= 0 && percent >= 0 && percent <= 100, (litres * percent) / 100),
  flow: (bore, velocity) => ok(bore > 0 && velocity >= 0, (area(bore) * velocity) / 1000),
  "flush-time": (litres, changes, flow) => ok(litres > 0 && changes >= 0 && flow > 0, (changes * litres) / flow / 60),
  "hole-leak": (hole, bar, density, cd) =>
    ok(hole > 0 && bar >= 0 && density > 0 && cd > 0 && cd <= 1, cd * area(hole) * Math.sqrt((2e5 * bar) / density) * 0.06),
  "filled-mass": (od, wall, tube, content) =>
    ok(wall > 0 && od > 2 * wall && tube > 0 && content > 0,
      (Math.PI * (od - wall) * wall * tube) / 1e6 + (area(od - 2 * wall) * content) / 1e6),
};
const mayRun = (envelope, bar, celsius) => {
  const points = envelope.split(" ").map((pair) => pair.split(",").map(Number));
  const most = between(points, celsius);
  const at = `${bar} bar and ${celsius} °C`;
  if (!Number.isFinite(bar) || !Number.isFinite(celsius) || bar < -1.01325) return "The records do not say.";
  if (Number.isNaN(most)) return `The records do not allow ${at}: a part is not rated at ${celsius} °C.`;
  if (bar > most + 1e-9) return `The records do not allow ${at}: the weakest part is rated ${Number(most.toPrecision(3))} bar.`;
  return `The records allow ${at}: the weakest part is rated ${Number(most.toPrecision(3))} bar.`;
};
globalThis.witnessmarkAids = { formulas, mayRun };
for (const form of document.querySelectorAll("[data-aid]")) {
  const fields = form.dataset.fields.split(";").map((text) => {
    const [words, sign, value] = text.split("|");
    const field = Object.assign(document.createElement("input"), {
      type: "number", step: "any", inputMode: "decimal", autocomplete: "off", value,
    });
    const label = document.createElement("label");
    const box = document.createElement("span");
    box.append(field, ` ${sign}`);
    label.append(Object.assign(document.createElement("span"), { textContent: words }), box);
    form.insertBefore(label, form.lastElementChild);
    return field;
  });
  const output = form.querySelector("output");
  const { aid, unit, places, envelope } = form.dataset;
  const number = new Intl.NumberFormat("en-GB", { minimumFractionDigits: +places, maximumFractionDigits: +places });
  const work = () => {
    const values = fields.map((field) => (field.value.trim() === "" ? NaN : Number(field.value)));
    if (aid === "may-run") {
      output.textContent = mayRun(envelope, ...values);
      return;
    }
    const result = formulas[aid](...values);
    output.textContent =
      Number.isNaN(result) ? "It cannot be told from these figures." : `${number.format(result)}\u00a0${unit}`;
  };
  form.hidden = false;
  form.addEventListener("input", work);
  form.addEventListener("submit", (event) => event.preventDefault());
  work();
}
