// Elements made of a tag, attributes and what is inside; handlers are attributes that begin with on.

const SVG = "http://www.w3.org/2000/svg";

function filled(element, attributes, inside) {
  for (const [name, value] of Object.entries(attributes ?? {})) {
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else if (value === true) element.setAttribute(name, "");
    else if (value !== false && value !== null && value !== undefined) element.setAttribute(name, value);
  }
  element.append(...inside.flat(Infinity).filter((item) => item !== null && item !== undefined));
  return element;
}

export function el(tag, attributes, ...inside) {
  return filled(document.createElement(tag), attributes, inside);
}

export function svg(tag, attributes, ...inside) {
  return filled(document.createElementNS(SVG, tag), attributes, inside);
}

/** A field whose value is handed over when it has changed. */
export function field(label, value, hand, attributes = {}) {
  return el("input", {
    "aria-label": label,
    value,
    spellcheck: "false",
    autocomplete: "off",
    onchange: (event) => hand(event.target.value.trim()),
    ...attributes,
  });
}

/** A choice of values, each with its words, and whether it cannot be taken. */
export function choice(label, options, chosen, hand) {
  const items = options.map(([value, words, disabled]) =>
    el("option", { value, selected: value === chosen, disabled }, words),
  );
  return el("select", { "aria-label": label, onchange: (event) => hand(event.target.value) }, items);
}

/** A control and what stands right behind it, on one line. */
export function ended(control, end = ".") {
  return el("span", { class: "ended" }, control, end);
}

export function button(words, press, attributes = {}) {
  return el("button", { type: "button", onclick: press, ...attributes }, words);
}

/** A part that is folded away or not, as `desk.unfolded` keeps it under a key when all is drawn anew. */
export function foldable(desk, key, title, ...inside) {
  const ontoggle = (event) => (event.target.open ? desk.unfolded.add(key) : desk.unfolded.delete(key));
  return el("details", { open: desk.unfolded.has(key), ontoggle }, el("summary", {}, title), inside);
}

/** By what a control is found again when all has been drawn anew: its place, its label or its words. */
export function nameOf(control) {
  if (!control || control === document.body) return null;
  return control.dataset.focus ?? control.getAttribute("aria-label") ?? (control.closest("label") ?? control).textContent;
}

/** Bring the focus to the control of one of these names, the first that is there and can take it. */
export function focusOn(...names) {
  const within = [...document.querySelectorAll("dialog[open]")].at(-1) ?? document;
  const controls = [...within.querySelectorAll("button, input, select, textarea, summary, [tabindex]")];
  const found = names.map((name) => controls.find((control) => nameOf(control) === name && !control.disabled));
  found.find(Boolean)?.focus();
}

/** Put something in the place of something else, and do not lose the focus with it. */
export function replaced(element, ...inside) {
  const name = nameOf(document.activeElement);
  element.replaceChildren(...inside.flat(Infinity).filter((item) => item !== null && item !== undefined));
  if (document.activeElement === document.body && name !== null) focusOn(name);
}

/** Of some elements the nearest to one in the direction of an arrow key; null if none lies there. */
export function nearest(elements, from, key) {
  const middle = (element) => {
    const box = element.getBoundingClientRect();
    return [box.left + box.width / 2, box.top + box.height / 2];
  };
  const [x, y] = middle(from);
  const along = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[key];
  let best = null;
  for (const element of elements) {
    const [u, v] = middle(element);
    const ahead = (u - x) * along[0] + (v - y) * along[1];
    const aside = Math.abs((u - x) * along[1]) + Math.abs((v - y) * along[0]);
    if (element !== from && ahead > 1 && (!best || ahead + 2 * aside < best[0])) {
      best = [ahead + 2 * aside, element];
    }
  }
  return best && best[1];
}
