// Making the pages, files that move, and the keys: each a window over the book.

import { button, el, focusOn, nameOf } from "./dom.js";
import { post } from "./ask.js";
import { WORDS, say } from "./words.js";

/** What is told must stand in the window, above its foot: all else is out of reach while it is open. */
function bringWhatIsTold(home) {
  const told = document.querySelectorAll(".status, .alert");
  const foot = home.querySelector(":scope > .foot");
  if (foot) foot.before(...told);
  else home.append(...told);
}

export function open(title, ...inside) {
  const from = nameOf(document.activeElement);
  const gone = () => {
    bringWhatIsTold([...document.querySelectorAll("dialog[open]")].at(-1) ?? document.body);
    dialog.remove();
    if (document.activeElement === document.body && from !== null) focusOn(from); // it was drawn anew
  };
  const dialog = el(
    "dialog",
    { "aria-label": title, onclose: gone },
    el("h2", { tabindex: "-1", autofocus: true }, title),
    ...inside,
    el("p", { class: "foot" }, button(say("close"), () => dialog.close())),
  );
  document.body.append(dialog);
  bringWhatIsTold(dialog);
  dialog.showModal();
  return dialog;
}

/** What would become of the files of pages that move; true if it shall be done. */
export function agreeDialog({ pages, files, folder }) {
  return new Promise((resolve) => {
    const done = (yes) => () => {
      resolve(yes);
      dialog.close();
    };
    const rows = files.map(([old, name]) => el("tr", {}, el("td", {}, old), el("td", {}, name)));
    const heads = [say("fileNow"), say("fileThen")].map((words) => el("th", { scope: "col" }, words));
    const dialog = open(
      say("agreeTitle"),
      el("p", {}, say("agreeIs", { folder })),
      el("ul", {}, pages.map((words) => el("li", {}, words))),
      el("div", { class: "files", tabindex: "0", role: "group", "aria-label": say("agreeTitle") }, el("table", {}, el("thead", {}, el("tr", {}, heads)), el("tbody", {}, rows))),
      el("p", { class: "hint" }, say("agreeHint")),
    );
    dialog.addEventListener("close", () => resolve(false));
    const foot = dialog.querySelector(".foot");
    foot.replaceChildren(button(say("agree"), done(true), { class: "main" }), button(say("leaveIt"), done(false)));
  });
}

export function keysDialog() {
  const rows = WORDS.keys.flatMap(([key, what]) => [el("dt", {}, key), el("dd", {}, what)]);
  open(say("keysTitle"), el("dl", {}, rows));
}

/** A text that could not be saved, to be copied. */
export function textDialog(text) {
  open(say("unsavedTitle"), el("p", {}, say("unsaved")),
    el("textarea", { readonly: true, rows: 16, "aria-label": say("unsavedTitle") }, text));
}

/** Page numbers of "3-8, 12"; null for all, undefined for what is no range. */
export function pageNumbers(text, last) {
  if (!text.trim()) return null;
  const found = new Set();
  for (const part of text.split(",")) {
    const range = /^\s*(\d{1,5})\s*(?:[-–]\s*(\d{1,5}))?\s*$/.exec(part);
    if (!range) return undefined;
    const [from, to] = [Number(range[1]), Math.min(Number(range[2] ?? range[1]), last)];
    for (let page = from; page <= to; page += 1) found.add(page);
  }
  return found.size ? [...found].sort((a, b) => a - b) : undefined;
}

export async function makeDialog(desk) {
  await desk.come;
  const { formats } = desk.choices;
  const boxes = formats.map((format) =>
    el("label", { class: "format" },
      el("input", { type: "checkbox", value: format.name, checked: format.name === "psd" }),
      el("b", {}, format.name), el("span", {}, [format.about, format.from && say("broughtBy", format)].filter(Boolean).join(", "))));
  const which = el("input", { "aria-label": say("makeWhich"), placeholder: say("makeAll"), size: 12 });
  const { shown, begin } = working(desk, { made: outcome });
  const go = button(say("makeNow"), () => {
    const chosen = boxes.map((label) => label.firstChild).filter((input) => input.checked);
    const pages = pageNumbers(which.value, desk.book.count);
    const body = { formats: chosen.map((input) => input.value), pages };
    return pages === undefined ? shown.at(-1).replaceChildren(say("badPages")) : begin("/make", body, go);
  }, { class: "main" });
  open(say("makeTitle"), el("fieldset", {}, el("legend", {}, say("makeAs")), boxes),
    el("p", {}, `${say("makeWhich")} `, which), el("p", {}, go), shown);
}

/**
 * What the server does by and by: `shown` are a bar and words, `begin` asks for it. `ends` has for
 * each way in which it may end what is told then.
 */
export function working(desk, ends) {
  const told = el("div", { role: "status", class: "told" });
  const count = el("p", { hidden: true }); // beside what is read out, or every canvas would be
  const bar = el("progress", { max: 1, value: 0, "aria-label": say("makeTitle"), hidden: true });
  let pressed = null;
  const ended = (...words) => {
    if (pressed) pressed.disabled = false;
    bar.hidden = count.hidden = true;
    told.replaceChildren(...words);
    const next = pressed?.isConnected ? pressed : told.querySelector("button") ?? told.closest("dialog")?.querySelector("h2");
    if (document.activeElement === document.body) next?.focus();
    told.scrollIntoView({ block: "nearest" });
  };
  desk.hearMaking = (event) => {
    if (!told.isConnected) return false; // the window is closed
    if (event.event === "failed") ended(el("p", { class: "wrong" }, event.told));
    else if (event.event in ends) ended(...ends[event.event](event));
    else if (event.event === "making") {
      bar.max = event.total || 1;
      bar.value = event.done;
      bar.hidden = count.hidden = false;
      count.textContent = say("making", event);
    } else ended(...told.childNodes); // of another kind, asked for in another tab
    return true;
  };
  const begin = async (path, body, by = null) => {
    pressed = by;
    if (by) by.disabled = true;
    bar.hidden = false;
    bar.scrollIntoView({ block: "nearest" });
    await post(path, body).catch((error) => ended(error.message));
  };
  return { shown: [bar, count, told], begin };
}

/** What came of work whose window is closed; nothing while it goes on. */
export function endWords(event) {
  const files = () => names(event.done.map(({ name }) => name)).names;
  if (event.event === "made") return say("made", event);
  if (event.event === "refreshed" && event.done.length) return `${say("renewed")} ${files()}`;
  if (event.event === "put back" && event.done.length) return `${say("isBack")} ${files()}`;
  return "";
}

/** The first of a list, for a sentence. */
const names = (list) => ({ names: list.slice(0, 12).join(", ") + (list.length > 12 ? " …" : "") });

function outcome(event) {
  return [
    el("p", {}, say("made", event)),
    event.kept.length ? el("p", { class: "wrong" }, say("keptFiles", names(event.kept))) : "",
    event.drawn.length ? el("p", {}, say("drawnFiles", names(event.drawn))) : "",
    event.left_over.length ? el("p", {}, say("leftOver", names(event.left_over))) : "",
    ...event.cautions.map((caution) => el("p", { class: "hint" }, say("caution", { caution }))),
    el("p", {}, button(say("openFolder"), () => post("/open", {}))),
  ];
}
