"use strict";
(() => {
  const book = document.querySelector(".book");
  const shown = document.getElementById("shown");
  const zoom = document.getElementById("zoom");
  const guides = document.getElementById("guides");
  const measures = JSON.parse(document.getElementById("measures").textContent);
  const pages = [...book.querySelectorAll(".page")];
  let kept = null; // the page whose measures stay until another is pressed

  const tell = (page) => {
    shown.textContent = page ? `${page.dataset.name}\n${measures[page.dataset.measures]}` : "";
  };
  const press = (page) => {
    kept?.setAttribute("aria-pressed", "false");
    kept = kept === page ? null : page;
    kept?.setAttribute("aria-pressed", "true");
    tell(kept);
  };
  const enlarge = (value) => {
    zoom.value = Math.min(Math.max(value, zoom.min), zoom.max);
    book.style.setProperty("--zoom", zoom.value / 100);
  };
  const go = (at) => {
    const next = pages[Math.min(Math.max(at, 0), pages.length - 1)];
    for (const page of pages) page.tabIndex = page === next ? 0 : -1;
    next.focus();
  };

  pages.forEach((page, at) => {
    page.tabIndex = at ? -1 : 0; // one stop for the whole book; arrows go on from there
    page.addEventListener("click", () => press(page));
    page.addEventListener("pointerenter", () => tell(page));
    page.addEventListener("pointerleave", () => tell(kept));
    page.addEventListener("focus", () => kept || tell(page));
    page.addEventListener("blur", () => tell(kept));
  });
  zoom.addEventListener("input", () => enlarge(Number(zoom.value)));
  guides.addEventListener("change", () => book.classList.toggle("no-guides", !guides.checked));

  document.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.target === zoom && event.key.startsWith("Arrow")) return;
    const at = pages.indexOf(document.activeElement);
    const ahead = book.classList.contains("rtl") ? "ArrowLeft" : "ArrowRight";
    const back = ahead === "ArrowLeft" ? "ArrowRight" : "ArrowLeft";
    const keys = {
      [ahead]: () => go(at + 1),
      [back]: () => go(at - 1),
      Home: () => go(0),
      End: () => go(pages.length - 1),
      "+": () => enlarge(Number(zoom.value) + 20),
      "-": () => enlarge(Number(zoom.value) - 20),
      g: () => guides.click(),
      Escape: () => kept && press(kept),
    };
    if (!(event.key in keys)) return;
    event.preventDefault();
    keys[event.key]();
  });
})();
