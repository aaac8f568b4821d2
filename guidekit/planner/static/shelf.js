// A shelf of layouts, in the proportions of the page that lies open.

import { button, choice, el, foldable } from "./dom.js";
import { get } from "./ask.js";
import { picture } from "./picture.js";
import { say } from "./words.js";

export function shelfView(page, desk) {
  const rows = el("div", { class: "shelf" });
  const numbers = Array.from({ length: 12 }, (_, i) => [String(i + 1), String(i + 1)]);
  const fill = async (number) => {
    desk.shelfNumber = number;
    const side = page.sides.length ? `&side=${page.side}` : "";
    const found = await get(`/shelf/${page.entry}?panels=${number}${side}`).catch(() => null);
    if (!found || desk.shelfNumber !== number) return; // the page is gone, or others are asked for
    const { layouts } = found;
    rows.replaceChildren(...(layouts.length ? layouts.map((layout) => item(layout, desk)) : [say("noLayouts")]));
  };
  const own = String(page.panels.filter((panel) => panel.inset === null).length || "");
  const number = desk.shelfNumber ?? own;
  const details = foldable(desk, "shelf", say("layouts"),
    el("p", {}, `${say("layoutsWith")} `,
      choice(say("layoutsWith"), [["", say("anyNumber")], ...numbers], number, fill)),
    rows,
    keep(desk),
  );
  details.addEventListener("toggle", () => details.open && !rows.childElementCount && fill(number));
  return details;
}

function item(layout, desk) {
  const take = () => desk.pageChange({ do: "layout", name: layout.name });
  const attempt = () => desk.show({ do: "layout", name: layout.name });
  const from = layout.from && say("broughtBy", layout);
  const about = [layout.about, from].filter(Boolean).join(", ");
  return button([picture(layout), el("span", {}, layout.name), from ? el("span", { class: "hint" }, from) : ""], take, {
    class: "layout",
    "aria-label": say("takeLayout", { name: layout.name, about }),
    title: about,
    onpointerenter: attempt,
    onfocus: attempt,
    onpointerleave: () => desk.show(null),
    onblur: () => desk.show(null),
  });
}

function keep(desk) {
  const name = el("input", { "aria-label": say("keepAs"), size: 14, maxlength: 60 });
  const press = async () => {
    if (!name.value.trim()) return name.focus();
    if (await desk.pageChange({ do: "keep", name: name.value.trim() })) desk.tell(say("kept", { name: name.value }));
    return null;
  };
  return el("p", {}, `${say("keepAs")} `, name, " ", button(say("keep"), press));
}
