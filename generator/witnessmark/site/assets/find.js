"use strict";
// Check characters by ISO/IEC 7064 MOD 37,36: a mistyped code is told from an unknown one.
const SIGNS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ";
const checks = (code) => {
  let p = 36;
  for (const sign of code.slice(0, -1)) p = (((p + SIGNS.indexOf(sign)) % 36 || 36) * 2) % 37;
  return (p + SIGNS.indexOf(code.slice(-1))) % 36 === 1;
};
for (const form of document.querySelectorAll("[data-find]")) {
  const field = form.querySelector("input");
  const found = form.querySelector(".found");
  const codes = (globalThis.witnessmarkCodes || "").split(" ");
  const look = () => {
    const typed = field.value.toUpperCase().replace(/[^0-9A-Z]/g, "");
    found.replaceChildren();
    if (!typed) return;
    const hits = codes.filter((code) => code.includes(typed)).slice(0, 8);
    for (const code of hits) {
      const link = document.createElement("a");
      link.href = `${form.dataset.root}T/${code}/index.html`;
      link.textContent = code;
      found.append(link);
    }
    if (!hits.length) {
      const length = codes[0] ? codes[0].length : 0;
      const words =
        typed.length < length ? "No tag of this pack holds these letters."
        : checks(typed) ? "This is a tag code, but not of this pack."
        : "This is no tag code: one letter at least is wrong. Read it again.";
      found.append(Object.assign(document.createElement("p"), { textContent: words }));
    }
  };
  form.hidden = false;
  field.addEventListener("input", look);
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const first = found.querySelector("a");
    if (first) location.href = first.href;
  });
  look();
}
