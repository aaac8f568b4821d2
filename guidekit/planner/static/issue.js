// The issue itself: its name, how it is bound, its guides, and the page format with every value.

import { choice, el, ended, field, replaced } from "./dom.js";
import { get } from "./ask.js";
import { open } from "./dialogs.js";
import { guideRow } from "./sentences.js";
import { say } from "./words.js";

export async function issueDialog(desk) {
  await desk.come;
  const [bound, guides, format] = [el("div", {}), el("div", {}), el("div", {})];
  const rows = el("div", { class: "values" });
  const compared = el("div", { class: "compared" });
  const put = async (key, value) => {
    await desk.change({ do: "issue", key, value: value === "" ? null : value });
    await fill();
  };
  /** Draw what another answer may have changed. */
  const fill = async () => {
    const found = await get("/format").catch((error) => desk.warn(error.message));
    if (!found || !desk.book.said) return; // broken just now
    const { values, own, differs, moved_on } = found;
    replaced(bound, bookSentences(desk, put));
    replaced(guides, issueGuides(desk, put));
    replaced(format, formatSentences(desk, put));
    replaced(compared, comparison(differs, moved_on));
    replaced(rows, values.filter((row) => row.px || row.key === "dpi" || row.key in own)
      .map((row) => valueRow(row, own, put)));
  };
  await fill();
  const part = (key, inside) => el("details", {}, el("summary", {}, say(key)), inside);
  open(say("formatTitle"), ...issueSentences(desk, put), part("bookPart", bound), part("guidesPart", guides),
    format, rows, compared).classList.add("wide");
}

/** Which page format it is, and what is to be known of it. */
function formatSentences(desk, put) {
  const { preset, preset_title, caution } = desk.book;
  const { presets, warnings } = desk.choices;
  const options = presets.map(presetOption);
  if (!presets.some(({ name }) => name === preset)) options.unshift([preset, preset_title]);
  const hint = (words) => el("p", { class: "hint" }, words);
  return [
    el("p", {}, `${say("formatIs")} `, choice(say("formatIs"), options, preset, (value) => put(["preset"], value))),
    [...warnings, ...(caution ? [caution] : [])].map((one) => hint(say("caution", { caution: one }))),
    hint(say("formatChange")),
  ];
}

/** A page format by its title and size, with where it is from; one that is wrong cannot be taken. */
function presetOption({ name, title, size, from, problem }) {
  if (problem) return [name, `${name}: ${problem}`, true];
  return [name, `${title || name} (${size})${from ? `, ${say("broughtBy", { from })}` : ""}`];
}

/** What differs from the format as it is locked, or as it comes. */
function comparison(differs, movedOn) {
  const list = (rows) => el("ul", {}, rows.map((words) => el("li", {}, words)));
  return [
    el("h3", {}, say(movedOn ? "comparedLocked" : "compared")),
    differs.length ? list(differs) : el("p", {}, say("nothingDiffers")),
    movedOn === null ? el("p", { class: "hint" }, say("notLocked")) : "",
    movedOn?.length ? [el("p", {}, say("movedOn")), list(movedOn)] : "",
  ];
}

/** How the book is held together, its cover, and the page numbers that are printed. */
function bookSentences(desk, put) {
  const { binding, cover, folios } = desk.book.said;
  const bound = typeof binding === "string" ? { kind: binding } : binding ?? { kind: "" };
  const bind = (more) => {
    const all = Object.entries({ ...bound, ...more }).filter(([, value]) => value !== "");
    const said = Object.fromEntries(all);
    return put(["binding"], said.kind ? (all.length === 1 ? said.kind : said) : null);
  };
  const kinds = ["saddle-stitch", "perfect", "zine", "loose", "scroll"].map((kind) => [kind, say(`bound_${kind}`)]);
  const covers = [["", say("coverNone")], ["wrap", say("coverWrap")], ["apart", say("coverApart")]];
  const covered = cover ? (cover.wrap === false ? "apart" : "wrap") : "";
  const coverAs = (how) => put(["cover"], how ? { ...cover, wrap: how === "wrap" } : null);
  const places = ["outside", "centre", "inside"].map((place) => [place, say(`folio_${place}`)]);
  const place = folios ? folios.place ?? "outside" : "";
  return [
    el("p", {}, `${say("boundAs")} `, choice(say("boundAs"), [["", say("notSaid")], ...kinds], bound.kind, (kind) => bind({ kind })),
      bound.kind ? [` ${say("onPaper")} `, field(say("onPaper"), bound.caliper ?? "", (caliper) => bind({ caliper }), { size: 8 }), ` ${say("thick")}`] : "."),
    el("p", {}, `${say("coverIs")} `, ended(choice(say("coverIs"), covers, covered, coverAs))),
    cover ? el("label", {}, el("input", { type: "checkbox", checked: Boolean(cover.inside),
      onchange: (event) => put(["cover", "inside"], event.target.checked || null) }), say("coverInside")) : "",
    el("p", {}, `${say("foliosAre")} `,
      ended(choice(say("foliosAre"), [["", say("foliosNone")], ...places], place, (where) => put(["folios"], where ? { ...folios, place: where } : null)))),
  ];
}

function issueGuides(desk, put) {
  const { guides, switched_by_format: switched } = desk.book.said;
  return desk.choices.guides.map((guide) =>
    guideRow(guide, guides?.[guide.name], "asFormat", switched, (value) => put(["guides", guide.name], value)));
}

function issueSentences(desk, put) {
  const own = (key) => (value) => put([key], value);
  const number = (value) => put(["number"], value === "" ? "" : Number(value));
  const directions = [["", say("readAsFormat")], ["ltr", say("ltr")], ["rtl", say("rtl")]];
  return [
    el("p", {}, `${say("issueCalled")} `, field(say("issueCalled"), desk.book.title, own("title"), { size: 24, maxlength: 250 }),
      ` ${say("issueNumber")} `,
      ended(field(say("issueNumber"), desk.book.number ?? "", number, { type: "number", min: 0, max: 99999 }))),
    el("p", {}, `${say("readFrom")} `, ended(choice(say("readFrom"), directions, desk.book.own_direction, own("direction")))),
  ];
}

function valueRow(row, own, put) {
  const hand = (value) => {
    const typed = row.key === "dpi" && value ? Number(value) : value;
    return put(["format", ...row.key.split(".")], typed === row.value ? null : typed);
  };
  const value = own[row.key] ?? row.value;
  const measure = row.px ? say("measures", row) : "";
  const called = row.key.replaceAll("_", " ").replace(".", ", ");
  const source = row.key in own ? say("ownValue", { value: row.value }) : row.from;
  return el("div", { class: "value" },
    el("span", {}, called),
    field(called, value, hand, { size: 9 }),
    el("span", { class: "hint" }, measure),
    el("span", { class: "hint" }, source));
}
