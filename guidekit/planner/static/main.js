// The planner in the browser: what lies open, what is chosen, and what is asked of the server.

import { get, listen, post } from "./ask.js";
import { bookView, called, drawnOn } from "./book.js";
import { agreeDialog, endWords, keysDialog, makeDialog, textDialog } from "./dialogs.js";
import { button, el, focusOn, foldable, nameOf } from "./dom.js";
import { issueDialog } from "./issue.js";
import { guideFields, pageSentences, panelSentences } from "./sentences.js";
import { redraw, sheetView } from "./sheet.js";
import { shelfView } from "./shelf.js";
import { say } from "./words.js";

const STEPS = { mm: 1, cm: 1, in: 25.4 / 16, pt: 25.4 / 24, px: 1 }; // millimetres

const header = el("header", {});
const main = el("main", { id: "main" });
const measure = el("p", { class: "measure" });
const status = el("p", { class: "status", role: "status" });
const alert_ = el("p", { class: "alert", role: "alert" });

const desk = {
  book: null,
  page: null,
  choices: { presets: [], formats: [], guides: [], warnings: [] },
  states: {},
  chosenPage: 0,
  chosen: new Set(),
  unfolded: new Set(["text"]),

  measure(words) {
    measure.textContent = words;
  },

  tell(words) {
    status.textContent = words;
    clearTimeout(this.fading);
    this.fading = setTimeout(() => (status.textContent = ""), 6000);
    alert_.textContent = "";
  },

  warn(words) {
    alert_.textContent = words;
    status.textContent = "";
  },

  /** A step of the arrow keys in pixels of the canvas. */
  step(fine) {
    return ((fine ? 0.1 : STEPS[this.book.unit]) * this.book.dpi) / 25.4;
  },

  open(entry, side) {
    location.hash = `page/${entry}${side ? `/${side}` : ""}`;
  },

  choosePage(place) {
    this.chosenPage = place;
    render(`place:${place}`);
  },

  chooseEntry(entry) {
    const place = this.book.pages.findIndex((page) => page.entry === entry);
    this.choosePage(Math.max(0, place));
  },

  choose({ key }, more) {
    if (!more) {
      const only = this.chosen.size === 1 && this.chosen.has(key);
      this.chosen = new Set(only ? [] : [key]);
    } else if (!this.chosen.delete(key)) this.chosen.add(key);
    render(key);
  },

  /** The panels of a page that are chosen. */
  chosenOf({ panels }) {
    return panels.filter(({ key }) => this.chosen.has(key));
  },

  /** Make a change; true if it was saved. */
  async change(change, then) {
    return save((agreed) => post("/change", { change, seen: this.book.version, agreed }), say("saved"), then);
  },

  pageChange(change, then) {
    return this.change({ ...this.where(), ...change }, then);
  },

  attempt(change) {
    return post("/try", { change: { ...this.where(), ...change } });
  },

  /** Which page lies open, and of pages that differ by side which of them. */
  where() {
    return this.page.sides.length ? { page: this.page.entry, side: this.page.side } : { page: this.page.entry };
  },

  /** Make the one page that was opened, of several alike, an entry of its own. */
  async apart() {
    const { nth } = this.book.pages[this.chosenPage];
    const { entry } = this.page;
    if ((await this.pageChange({ do: "apart", nth })) && nth > 0) this.open(entry + 1);
  },

  join() {
    const panels = this.chosenOf(this.page).map(({ number }) => number);
    const joined = Math.min(...panels);
    const chooseIt = () => {
      this.chosen.clear();
      this.choose(this.page.panels.find(({ number }) => number === joined));
    };
    if (panels.length > 1) this.pageChange({ do: "join", panels }, chooseIt);
  },

  toggleBleed(panel) {
    const on = panel.bleed.length < panel.ends.length;
    if (!panel.ends.length) return;
    const key = ["panel", String(panel.number), "bleed"];
    this.pageChange({ do: "put", key, value: on ? "all" : null });
  },

  liftOff({ inset, key }) {
    this.chosen.delete(key);
    this.pageChange({ do: "lift", inset });
  },

  layOver(panel) {
    const [left, top, right, bottom] = panel.box;
    const [x, y] = [(right - left) / 4, (bottom - top) / 4];
    this.pageChange({ do: "inset", box: [right - 2 * x, bottom - 2 * y, right - x / 2, bottom - y / 2] });
  },

  nudge(panel, key, size) {
    const step = this.step(false);
    const [x, y] = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step] }[key];
    const [left, top, right, bottom] = panel.box;
    const box = size ? [left, top, right + x, bottom + y] : [left + x, top + y, right + x, bottom + y];
    this.pageChange({ do: "inset", inset: panel.inset, box });
  },

  halve(edge, i) {
    this.pageChange({ do: "drag", edge: i, to: (edge.limits[0] + edge.limits[1]) / 2, near: 4 });
  },

  /** Show the page as it would be after a change, or as it is. */
  async show(change) {
    const root = document.querySelector(".sheet");
    this.shown = change;
    if (!root) return;
    try {
      const tried = change ? await this.attempt(change) : {};
      if (this.shown === change) redraw(root, { ...this.page, ...tried, ...(change && { shaped: false, knobs: [] }) }, this);
    } catch (error) {
      this.measure(error.message);
    }
  },
};

function save(ask, words, then) {
  desk.saving = saved(ask, words, then);
  return desk.saving;
}

async function saved(ask, words, then) {
  try {
    let answer = await ask();
    while (answer.plan) {
      if (!(await agreeDialog(answer.plan))) return left();
      answer = await ask(answer.plan.key);
    }
    const before = desk.book.folder;
    desk.book = answer;
    if (desk.page) await readPage();
    desk.measure(""); // what has the focus tells its own anew
    desk.tell(answer.moved ? movedWords(answer.moved) : words);
    if (before !== answer.folder && drawnOn(desk).length) {
      desk.warn(say("folderChanged", { before, now: answer.folder }));
    }
    render();
    then?.();
    return true;
  } catch (error) {
    if (error.stale) await refresh(say("changedElsewhere"));
    render();
    desk.warn(say("notSaved", { told: error.message }));
    if (error.text) textDialog(error.text);
    return false;
  }
}

/** Nothing is done: the plan was not agreed to. */
function left() {
  desk.tell(say("leftAsItIs"));
  render();
  return false;
}

function movedWords({ files, refused }) {
  const told = say(files.length === 1 ? "movedOne" : "moved", { count: files.length });
  return refused.length ? `${told} ${say("notRefreshed", { names: refused.join("; ") })}` : told;
}

function step(back) {
  return save((agreed) => post("/step", { back, seen: desk.book.version, agreed }), say(back ? "undone" : "redone"));
}

async function refresh(words) {
  const { saving } = desk;
  const book = await get("/book");
  if (saving !== desk.saving) return; // what is saved meanwhile brings a newer one
  if (book.version === desk.book.version) return; // it was heard late of a change of our own
  desk.book = book;
  if (desk.page) await readPage();
  if (words) desk.tell(words);
  render();
}

/** How work ended that no window tells of. */
function tellEnd(event) {
  const words = endWords(event);
  if (event.event === "failed") desk.warn(event.told);
  else if (words) desk.tell(words);
}

/** The file has this version, or cannot be read. */
async function hearNow({ version, trouble }) {
  if (version !== desk.book.version) await refresh(say("changedElsewhere"));
  else if (desk.trouble && !trouble) desk.tell(say("readAgain"));
  if (trouble) desk.warn(trouble);
  desk.trouble = trouble;
}

let turns = 0; // how often another page was opened

async function readPage() {
  if (!desk.book.pages.length) return; // broken for now; the page is there again when it is mended
  const last = desk.book.pages.at(-1).entry;
  const { entry, side, sides } = desk.page;
  const turn = turns;
  const page = entry > last ? null : await get(pagePath(entry, sides.length && side)).catch(() => null);
  if (turn !== turns) return; // another has been opened meanwhile
  desk.page = page;
  if (!page) return void (location.hash = ""); // it is gone, perhaps between the two answers
  desk.chosen = new Set(desk.chosenOf({ panels: [], ...page }).map(({ key }) => key));
}

const pagePath = (entry, side) => `/page/${entry}${side ? `?side=${side}` : ""}`;

async function go() {
  turns += 1;
  const turn = turns;
  const [, entry, side] = /^#page\/(\d{1,5})(?:\/(left|right))?$/.exec(location.hash) ?? [];
  const was = desk.page;
  desk.chosen = new Set();
  desk.measure("");
  desk.page = null;
  if (entry !== undefined && desk.book.pages.length) {
    const page = await get(pagePath(entry, side)).catch(() => null);
    if (turn !== turns) return; // another has been opened meanwhile
    desk.page = page;
    if (desk.page && desk.book.pages[desk.chosenPage]?.entry !== desk.page.entry) {
      desk.chosenPage = desk.book.pages.findIndex((one) => one.entry === desk.page.entry);
    }
  }
  const turned = ["before", "behind"].includes(nameOf(document.activeElement));
  if (desk.page) render(turned ? undefined : "page");
  else render(was && `place:${desk.chosenPage}`);
  scrollTo(0, 0);
}

/** Draw all anew; the focus comes to what is named, or stays where it is as nearly as may be. */
function render(focus) {
  const name = focus ?? nameOf(document.activeElement);
  const { book, page } = desk;
  document.title = book.title ? `${book.title} – guidekit` : book.file;
  header.replaceChildren(...headerParts(book));
  if (!book.pages.length) main.replaceChildren(...unreadable(book));
  else main.replaceChildren(...problems(book), page ? pageView(page) : bookView(desk));
  if (!page && book.version !== desk.statesOf) readStates();
  const [chosen] = desk.chosen;
  if (name !== null) focusOn(name, ...(page ? [chosen, "page"] : [`place:${desk.chosenPage}`]));
}

function headerParts(book) {
  const title = book.number === null || book.number === undefined ? book.title : say("heading", book);
  return [
    el("div", {}, el("h1", {}, title ?? book.file),
      book.title ? el("p", {}, say(book.count === 1 ? "summaryOne" : "summary", { ...book, preset: book.preset_title })) : null),
    el(
      "nav",
      { "aria-label": say("ofIssue") },
      button(say("undo"), () => step(true), { disabled: !book.undo, "data-focus": "undo" }),
      button(say("redo"), () => step(false), { disabled: !book.redo, "data-focus": "redo" }),
      button(say("changeFormat"), () => issueDialog(desk), { disabled: !book.title }),
      button(say("keysTitle"), keysDialog),
      button(say("makePages"), () => makeDialog(desk), { class: "main", disabled: book.problems.length > 0 }),
    ),
  ];
}

function problemList(list) {
  return el("ul", { class: "problems" }, list.map((problem) =>
    el("li", {}, problem.line ? el("b", {}, `${say("line", problem)} `) : "",
      problem.key ? el("code", {}, problem.key) : "", ` ${problem.told}`)));
}

function problems(book) {
  return book.problems.length ? [el("section", { class: "trouble" }, el("p", {}, say("wrong")), problemList(book.problems))] : [];
}

function unreadable(book) {
  const wrong = new Set(book.problems.map((problem) => problem.line));
  const lines = book.text.split("\n").map((line, i) =>
    el("li", { class: wrong.has(i + 1) ? "wrong" : "" }, line || " "));
  return [
    el("section", { class: "trouble" }, el("p", {}, say("cannotRead")), problemList(book.problems)),
    el("ol", { class: "text", tabindex: "0", "aria-label": book.file }, lines),
  ];
}

function pageView(page) {
  const turn = (by) => () => desk.open(page.entry + by);
  const last = desk.book.pages.at(-1).entry;
  const nav = el(
    "div",
    { class: "acts" },
    el("h2", { tabindex: "-1", "data-focus": "page" }, called(page.numbers ? page : desk.book.pages.find((one) => one.entry === page.entry))),
    button(say("backToBook"), () => (location.hash = ""), { class: "words" }),
    button(say("before"), turn(-1), { class: "words", disabled: page.entry === 0, "data-focus": "before" }),
    button(say("behind"), turn(1), { class: "words", disabled: page.entry === last, "data-focus": "behind" }),
  );
  const lines = el("pre", { tabindex: "0", role: "group", "aria-label": say("inFile", page) }, page.text);
  const text = foldable(desk, "text", say("inFile", page), lines);
  if (page.problems.length) {
    return el("section", { class: "open-page" }, nav, problemList(page.problems), text);
  }
  const guides = foldable(desk, "guides", say("guides"), guideFields(page, desk));
  return el(
    "section",
    { class: "open-page" },
    nav,
    el("div", { class: "spread-out" },
      el("div", { class: "easel" }, sheetView(page, desk), measure),
      el("div", { class: "margin" },
        el("div", { class: "of-panel" }, panelSentences(page, desk)),
        el("div", { class: "of-page" }, pageSentences(page, desk)),
        shelfView(page, desk), guides, text)),
  );
}

addEventListener("hashchange", go);
addEventListener("focus", () => desk.book && !desk.page && readStates()); // back from drawing, perhaps
addEventListener("keydown", (event) => {
  const typing = event.target.matches?.("input, select, textarea");
  const key = event.key.toLowerCase();
  if ((event.ctrlKey || event.metaKey) && !typing && (key === "z" || key === "y")) {
    event.preventDefault();
    step(key === "z" && !event.shiftKey);
  } else if (event.key === "Escape" && typing) {
    event.target.blur();
  } else if (event.key === "Escape" && desk.page && !document.querySelector("dialog[open]")) {
    location.hash = "";
  }
});

/** What became of the pages' files, as the issue is now; looked up while the book lies open. */
async function readStates() {
  const { version } = desk.book;
  desk.statesOf = version;
  const states = await get("/states").catch(() => ({}));
  if (version !== desk.statesOf || JSON.stringify(states) === JSON.stringify(desk.states)) return;
  desk.states = states;
  if (!desk.page && desk.book.pages.length) render();
}

async function start() {
  document.body.append(header, main, status, alert_);
  main.replaceChildren(el("p", {}, say("loading")));
  desk.book = await get("/book");
  await go();
  desk.come = get("/choices").then((choices) => (desk.choices = choices)); // after the first picture
  desk.come.then(() => desk.page && render()).catch((error) => desk.warn(error.message));
  listen(async (event) => {
    await desk.saving; // it may be a change of our own
    if (event.event === "now") await hearNow(event).catch((error) => desk.warn(error.message));
    else {
      if (!desk.hearMaking?.(event)) tellEnd(event);
      if (["made", "refreshed", "put back"].includes(event.event)) readStates();
    }
  }, () => desk.warn(say("gone")));
}

start().catch((error) => {
  if (!document.body.contains(main)) document.body.append(header, main, status, alert_);
  main.replaceChildren(el("p", { class: "trouble" }, error.message));
});
