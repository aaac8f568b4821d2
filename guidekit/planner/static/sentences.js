// What can be said of a page and of its panels, as sentences with fields in them.

import { button, choice, el, ended, field, focusOn, foldable } from "./dom.js";
import { panelWords } from "./sheet.js";
import { called } from "./book.js";
import { say } from "./words.js";

const SIDES = { left: "isLeft", right: "isRight", single: "isSingle", spread: "isSpread" };

export function pageSentences(page, desk) {
  const { said } = page;
  const put = (key, value) => desk.pageChange({ do: "put", key, value: value === "" ? null : value });
  const across = typeof said.gutter === "string" ? said.gutter : said.gutter.across;
  const down = typeof said.gutter === "string" ? said.gutter : said.gutter.down;
  const gutter = (a, d) => put(["gutter"], a && d ? (a === d ? a : { across: a, down: d }) : "");
  return [
    el(
      "p",
      {},
      say(SIDES[page.side], { called: called(page) }),
      " ",
      said.layout ? say("isLayout", { name: said.layout }) : null,
    ),
    page.sides.length
      ? el("p", {}, say(page.side === "left" ? "bySideLeft" : "bySideRight"), " ",
          page.sides.filter((side) => side !== page.side).map((side) =>
            button(say(side === "left" ? "showLeft" : "showRight"), () => desk.open(page.entry, side), { class: "words" })))
      : null,
    said.count > 1
      ? el("p", {}, say("alike", { count: said.count }), " ",
          button(say("makeApart"), () => desk.apart(), { class: "words" }))
      : null,
    el(
      "p",
      {},
      `${say("gutterAcross")} `,
      field(say("gutterAcross"), across, (value) => gutter(value, down), { size: 9 }),
      ` ${say("gutterWide")} `,
      field(say("gutterDown"), down, (value) => gutter(across, value), { size: 9 }),
      ` ${say("gutterDown")}`,
    ),
    el("p", {}, `${say("radius")} `,
      ended(field(say("radius"), said.radius, (value) => put(["radius"], value), { size: 9 }))),
    el("p", {}, `${say("note")} `,
      field(say("note"), said.note, (value) => put(["note"], value), { class: "long", maxlength: 250 })),
    said.spread || said.scroll.length ? null : el("p", {}, `${say("howMany")} `,
      field(say("howMany"), said.count, (value) => put(["count"], Number(value) > 1 ? Number(value) : ""),
        { type: "number", min: 1, max: 500 })),
    ofBook(page, desk, put),
  ];
}

export function panelSentences(page, desk) {
  const chosen = desk.chosenOf(page);
  if (page.said.scroll.length) return scrollSentences(page, desk);
  if (!page.shaped) return [el("p", { class: "hint" }, say(page.panels.length || page.plain.length ? "notShaped" : "noPanels"))];
  if (!chosen.length) return [el("p", { class: "hint" }, say("choosePanel"))];
  if (chosen.length > 1) {
    const numbers = chosen.map((panel) => panel.number).join(", ");
    return [
      el("p", {}, say("panelsChosen", { count: chosen.length, numbers })),
      el("p", {}, button(say("join"), () => desk.join())),
    ];
  }
  const [panel] = chosen;
  return [el("p", {}, panelWords(panel)), ...(panel.inset === null ? ofPanel(panel, page, desk) : ofInset(panel, page, desk))];
}

/** The places of a scroll from its top, each with its height and the gap above it. */
function scrollSentences(page, desk) {
  const items = page.said.scroll;
  const save = (list, focus) => desk.pageChange({ do: "put", key: ["scroll"], value: list }).then(() => focusOn(focus));
  return items.map((item, i) => {
    const called = (key) => say(`scroll_${key}`, { number: i + 1 });
    const put = (key, value) => {
      const { [key]: _, ...rest } = item;
      if (key === "height" || key === "ratio") { delete rest.height; delete rest.ratio; }
      return save(items.with(i, value === "" ? rest : { ...rest, [key]: value }), called(key));
    };
    const sized = (key) => field(called(key), item[key] ?? "", (value) => put(key, value), { size: 9 });
    const act = (key, list) => button(say(key), () => save(list), { class: "words", "aria-label": called(key) });
    return el("p", { class: "item" },
      el("b", {}, `${i + 1} `), say("scrollIs"), " ", sized(item.ratio ? "ratio" : "height"),
      ` ${say(item.ratio ? "scrollRatio" : "scrollHigh")} `, ended(sized("gap")), " ",
      el("label", {}, el("input", { type: "checkbox", checked: item.full === true, "aria-label": called("full"),
        onchange: (event) => put("full", event.target.checked || "") }), say("scrollFull")), " ",
      act("addBelow", items.toSpliced(i + 1, 0, { height: item.height ?? "1 screen" })), " ",
      i ? [act("moveUp", items.with(i, items[i - 1]).with(i - 1, item)), " "] : "",
      items.length > 1 ? act("takeAway", items.toSpliced(i, 1)) : "");
  });
}

function ofPanel(panel, page, desk) {
  const said = page.said.panel[panel.number] ?? {};
  const put = (key, value) =>
    desk.pageChange({ do: "put", key: ["panel", String(panel.number), key], value: value === "" ? null : value });
  const parts = el("input", { type: "number", min: 2, max: 12, value: 2, "aria-label": say("divideInto") });
  const divide = (axis) => () =>
    desk.pageChange({ do: "divide", panel: panel.number, axis, parts: Math.max(2, Number(parts.value) || 2) });
  const outs = panel.ends.map((edge) =>
    el("label", {},
      el("input", {
        type: "checkbox",
        checked: panel.bleed.includes(edge),
        onchange: (event) => desk.pageChange({ do: "bleed", panel: panel.number, edge, on: event.target.checked }),
      }), say(edge)));
  return [
    el("p", {}, `${say("divideInto")} `, parts, " ", button(say("sideBySide"), divide("across")), " ",
      button(say("oneBelow"), divide("down"))),
    outs.length ? el("p", { class: "outs" }, `${say("bleedAt")} `, outs) : null,
    border(said, page, put),
    el("p", {}, `${say("panelRadius")} `,
      ended(field(say("panelRadius"), said.radius ?? page.said.radius, (value) => put("radius", value), { size: 9 }))),
    el("p", {}, `${say("panelTilt")} `, ended(field(say("panelTilt"), said.tilt ?? "", (value) => put("tilt", value), { size: 9 }))),
    el("p", {}, button(say("layOver"), () => desk.layOver(panel))),
  ];
}

/** Its size where it has one in the file, how it is turned, how far others stay away, what it lies above. */
function ofInset(panel, page, desk) {
  const said = page.said.insets[panel.inset];
  const put = (key, value) =>
    desk.pageChange({ do: "put", key: ["insets", panel.inset, key], value: value === "" ? null : value });
  const sized = (key) => field(say(`inset_${key}`), said[key] ?? "", (value) => put(key, value), { size: 9 });
  return [
    el("p", { class: "hint" }, say(panel.own ? "insetOwn" : "insetIs")),
    el("p", {}, `${say("inset_tilt")} `, sized("tilt"), ` ${say("inset_gutter")} `, ended(sized("gutter"))),
    said.width ? el("p", {}, `${say("inset_width")} `, sized("width"), ` ${say("inset_height")} `, ended(sized("height"))) : null,
    border(said, page, put),
    el("p", {}, button(say("liftOff"), () => desk.liftOff(panel))),
  ];
}

function border(said, page, put) {
  const kind = said.border === false ? "none" : typeof said.border === "string" ? "own" : "preset";
  const options = [
    ["preset", say("borderPreset", { weight: page.said.border })],
    ["none", say("borderNone")],
    ["own", say("borderOwn")],
  ];
  const chosen = (value) => put("border", { preset: "", none: false, own: page.said.border }[value]);
  return el("p", {}, `${say("borderIs")} `, choice(say("borderIs"), options, kind, chosen),
    kind === "own" ? [" ", field(say("borderWeight"), said.border, (value) => put("border", value), { size: 9 })] : "", ".");
}

/** The guides of a page, each with what it is here, or has from the issue. */
export function guideFields(page, desk) {
  return desk.choices.guides.map((guide) =>
    guideRow(guide, page.said.own_guides[guide.name], "asIssue", desk.book.said.switched,
      (value) => desk.pageChange({ do: "put", key: ["guides", guide.name], value: value || null })));
}

/** A guide and a choice of its state; without a word of its `own` it is as others have `switched` it. */
export function guideRow({ name, state, states }, own, as, switched, hand) {
  const otherwise = say(as, { state: say(switched[name] ?? state ?? "default") });
  const options = [["", otherwise], ...states.map((one) => [one, say(one)])];
  const called = name.replaceAll("_", " ");
  return el("p", { class: "row" }, el("span", {}, called), choice(called, options, own ?? "", hand));
}

/** What a page is in the book: its kind, a section that begins, the turn before it, its number. */
function ofBook(page, desk, put) {
  const { said } = page;
  const kinds = ["story", "blank", "ad", "credits"].map((kind) => [kind, say(`kind_${kind}`)]);
  const tick = (key, on, value) =>
    el("label", {}, el("input", { type: "checkbox", checked: on, onchange: (event) => put([key], value(event.target.checked)) }), say(`is_${key}`));
  const section = typeof said.section === "string" ? { title: said.section } : said.section ?? {};
  const begin = (title) => put(["section"], Object.keys(section).some((key) => key !== "title") ? { ...section, title } : title);
  return foldable(desk, "inBook", say("inBook"),
    el("p", {}, `${say("kindIs")} `, ended(choice(say("kindIs"), kinds, said.kind, (kind) => put(["kind"], kind === "story" ? "" : kind)))),
    el("p", {}, `${say("sectionIs")} `, ended(field(say("sectionIs"), section.title ?? "", begin, { size: 16, maxlength: 250 }))),
    el("p", { class: "outs" }, page.plain.length ? "" : tick("reveal", said.reveal, (on) => (on ? true : "")),
      desk.book.said.folios ? tick("folio", said.folio, (on) => (on ? "" : false)) : ""));
}
