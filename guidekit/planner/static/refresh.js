// Today's guides in pages that are drawn on: shown first, then done, and undone.

import { button, el } from "./dom.js";
import { open, working } from "./dialogs.js";
import { say } from "./words.js";

export function refreshDialog(desk) {
  const ends = {
    looked: (event) => told(event, "renewWould", event.done.length ? act("renewNow", "/refresh") : null),
    refreshed: (event) => told(event, "renewed", event.done.length ? act("putBack", "/put_back") : null),
    "put back": (event) => told(event, "isBack"),
  };
  const { shown, begin } = working(desk, ends);
  const act = (words, path, body = {}) =>
    el("p", {}, button(say(words), (event) => begin(path, body, event.target), { class: "main" }));
  const anyway = (pages) =>
    button(say("renewAnyway", { page: pages.join(" · ") }), (event) => begin("/refresh", { pages }, event.target), { class: "words" });

  function told({ done, notes, refused }, words, next = null) {
    const rows = done.map(({ name, changed }) =>
      el("li", {}, changed.length ? say("renewedFile", { name, changed: changed.join(", ") }) : name));
    return [
      el("p", {}, say(done.length ? words : "renewNone")),
      el("ul", {}, rows),
      ...notes.map((note) => el("p", { class: "hint" }, note)),
      refused.length ? el("p", { class: "wrong" }, say("renewRefused")) : "",
      el("ul", {}, refused.map(({ name, why, pages }) =>
        el("li", {}, `${name}: ${why}${pages.length ? "." : ""} `, pages.length ? anyway(pages) : ""))),
      next ?? "",
    ];
  }

  open(say("renewTitle"), el("p", { class: "hint" }, say("renewHint")), shown);
  return begin("/refresh", { look: true });
}
