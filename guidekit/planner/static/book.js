// The book: all pages small, in openings as they face each other.

import { button, el, nearest, svg } from "./dom.js";
import { picture } from "./picture.js";
import { refreshDialog } from "./refresh.js";
import { say } from "./words.js";

export function called(page) {
  const [first, last] = page.numbers;
  return last ? say("pagesCalled", { first, last }) : say("pageCalled", { number: first });
}

/** The numbers of pages that are drawn on. */
export function drawnOn(desk) {
  return Object.keys(desk.states).filter((number) => desk.states[number].state !== "empty");
}

const drawings = new Map(); // what is drawn on a page, kept so that it is not fetched again

function drawingOf(page, desk) {
  const [number] = page.numbers;
  const { stamp } = desk.states[number] ?? {};
  if (!stamp) return null;
  const name = `/drawing/${number}?stamp=${stamp}`;
  if (!drawings.has(name)) {
    const hide = (event) => event.target.setAttribute("visibility", "hidden"); // it cannot be read
    drawings.set(name, svg("image", { href: name, preserveAspectRatio: "none", onerror: hide }));
  }
  return drawings.get(name);
}

export function bookView(desk) {
  const { book } = desk;
  const here = Math.min(desk.chosenPage, book.pages.length - 1);
  desk.chosenPage = here;
  const drawn = drawnOn(desk).length;
  const openings = book.openings.flatMap((places) => {
    const section = places.map((i) => book.pages[i].section).find(Boolean);
    return [
      section ? el("h2", { class: "section" }, section) : null,
      el("div", { class: "opening", role: "presentation" }, places.map((i) => pageButton(desk, i, i === here))),
    ];
  });
  return el(
    "section",
    { class: "book", "aria-label": say("theBook") },
    el("p", { class: "hint" }, say("bookHint")),
    drawn ? el("p", { class: "hint" }, say(drawn === 1 ? "drawnHintOne" : "drawnHint", { count: drawn })) : null,
    behind(desk),
    acts(desk, here),
    el("div", { class: `openings ${book.direction}`, role: "group", "aria-label": say("pagesInOrder") }, openings),
    book.covers.length ? el("h2", {}, say("theCover")) : null,
    el("div", { class: "openings" }, book.covers.map((cover) =>
      el("figure", { class: `cover${cover.folds.length ? " wraps" : ""}` }, picture(cover), el("figcaption", {}, say(`cover_${cover.name}`))))),
  );
}

/** Pages whose guides are older than the issue, and the way to new ones. */
function behind(desk) {
  const numbers = drawnOn(desk).filter((number) => desk.states[number].state === "behind");
  if (!numbers.length) return null;
  return el("p", {}, `${say("behindHint")} ${numbers.join(", ")}. `,
    button(say("renew"), () => refreshDialog(desk), { class: "words" }));
}

function acts(desk, here) {
  const page = desk.book.pages[here];
  const act = (key, press) => button(say(key), press, { class: "words" });
  return el(
    "p",
    { class: "acts" },
    el("b", {}, say("chosenPage", { called: called(page) })),
    act("open", () => desk.open(page.entry, page.by_side && page.side)),
    act("addPage", () => add(desk, page)),
    act("addSpread", () => add(desk, page, { spread: true })),
    page.side === "spread" ? act("makePagesOfIt", () => desk.change({ do: "halve", page: page.entry })) : null,
    facing(desk, here) ? act("makeSpread", () => merge(desk, here)) : null,
    act("copyPage", () => add(desk, page, { copy_it: true })),
    act("moveBack", () => move(desk, page, page.entry - 1)),
    act("moveOn", () => move(desk, page, page.entry + 1)),
    act("takeAway", () => desk.change({ do: "delete", page: page.entry })),
  );
}

/** The place of the single page that a single page faces, if one lies beside it. */
function facing(desk, here) {
  const opening = desk.book.openings.find((places) => places.includes(here));
  return opening.length === 2 && opening;
}

function merge(desk, here) {
  const first = Math.min(...facing(desk, here));
  const { entry } = desk.book.pages[first];
  return desk.change({ do: "merge", page: entry }, () => desk.chooseEntry(entry));
}

function add(desk, page, more = {}) {
  return desk.change({ do: "add", behind: page.entry, ...more }, () => desk.chooseEntry(page.entry + 1));
}

function move(desk, page, to) {
  const last = desk.book.pages.at(-1).entry;
  if (to < 0 || to > last || to === page.entry) return null;
  return desk.change({ do: "move", page: page.entry, to }, () => desk.chooseEntry(to));
}

function pageButton(desk, i, chosen) {
  const page = desk.book.pages[i];
  const state = desk.states[page.numbers[0]]?.state;
  const node = el(
    "button",
    {
      type: "button",
      class: `page ${page.side}${page.wrong ? " wrong" : ""}${state && state !== "empty" ? " drawn" : ""}`,
      "aria-pressed": chosen ? "true" : "false",
      tabindex: chosen ? "0" : "-1",
      "data-place": i,
      "data-focus": `place:${i}`,
      onclick: () => (desk.chosenPage === i ? desk.open(page.entry, page.by_side && page.side) : desk.choosePage(i)),
      onkeydown: (event) => pageKey(desk, page, i, event),
      onpointerdown: (event) => drag(desk, page, node, event),
    },
    picture(desk.book.shapes[page.shape], page.turns ? (desk.book.direction === "rtl" ? "left" : "right") : "", drawingOf(page, desk)),
    el("span", { class: "number" }, el("span", { class: "unseen" }, `${say(page.numbers[1] ? "pages" : "page")} `),
      page.numbers.join(" · "), page.printed && page.printed !== page.numbers.join(" · ") ? ` (${page.printed})` : ""),
    page.turns ? el("span", { class: "unseen" }, say("turns")) : "",
    ["kind", "reveal"].filter((key) => page[key]).map((key) =>
      el("span", { class: "mark" }, say(key === "kind" ? `kind_${page.kind}` : "reveals"))),
    el("span", { class: "note" }, page.note),
    state ? el("span", { class: `state ${state}` }, say(`state_${state}`)) : "",
    page.wrong ? el("span", { class: "unseen" }, say("pageWrong")) : "",
  );
  return node;
}

const ENDS = ["Home", "End"];

function pageKey(desk, page, i, event) {
  const { key } = event;
  if (event.ctrlKey || event.metaKey) return;
  const act = {
    Enter: () => desk.open(page.entry, page.by_side && page.side),
    " ": () => desk.choosePage(i),
    Delete: () => desk.change({ do: "delete", page: page.entry }),
    n: () => add(desk, page),
    c: () => add(desk, page, { copy_it: true }),
  }[key.length === 1 ? key.toLowerCase() : key];
  if (event.altKey && key.startsWith("Arrow")) {
    const backward = (key === "ArrowLeft") === (desk.book.direction === "ltr");
    move(desk, page, page.entry + (key === "ArrowUp" || backward ? -1 : 1));
  } else if (key.startsWith("Arrow")) {
    const all = [...document.querySelectorAll(".page")];
    const next = nearest(all, event.currentTarget, key);
    if (next) desk.choosePage(Number(next.dataset.place));
  } else if (ENDS.includes(key)) {
    desk.choosePage(key === "Home" ? 0 : desk.book.pages.length - 1);
  } else if (act) {
    act();
  } else {
    return;
  }
  event.preventDefault();
}

/** Drag a page onto another: it comes to its place. */
function drag(desk, page, node, event) {
  if (event.button || event.pointerType === "touch") return; // a finger scrolls the book
  const from = [event.clientX, event.clientY];
  let target = null;
  let moved = false;
  const go = (move_) => {
    moved ||= Math.hypot(move_.clientX - from[0], move_.clientY - from[1]) > 8;
    if (!moved) return;
    node.classList.add("lifted");
    target?.classList.remove("target");
    target = document.elementFromPoint(move_.clientX, move_.clientY)?.closest(".page");
    if (target === node) target = null;
    target?.classList.add("target");
  };
  const end = () => {
    removeEventListener("pointermove", go);
    removeEventListener("pointerup", end);
    removeEventListener("pointercancel", end);
    node.classList.remove("lifted");
    target?.classList.remove("target");
    if (!moved) return;
    const swallow = (click) => click.stopPropagation();
    addEventListener("click", swallow, { capture: true });
    setTimeout(() => removeEventListener("click", swallow, { capture: true }));
    if (target) move(desk, page, desk.book.pages[Number(target.dataset.place)].entry);
  };
  addEventListener("pointermove", go);
  addEventListener("pointerup", end);
  addEventListener("pointercancel", end);
}
