"use strict";
for (const place of document.querySelectorAll("[data-issued]")) {
  const issued = new Date(place.dataset.issued + "T00:00:00");
  const now = new Date();
  let months = (now.getFullYear() - issued.getFullYear()) * 12 + now.getMonth() - issued.getMonth();
  if (now.getDate() < issued.getDate()) months -= 1;
  if (months < 0 || Number.isNaN(months)) continue;
  place.textContent =
    months < 1 ? "This copy is less than a month old." : `This copy is ${months} month${months === 1 ? "" : "s"} old.`;
}
