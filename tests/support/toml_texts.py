"""Random TOML files, spelled in every way that TOML 1.0 has for a table, with comments."""

import json
import re
from typing import Any

from hypothesis import strategies as st
from hypothesis.strategies import DrawFn, SearchStrategy

NAMES = st.sampled_from(["a", "b", "panel", "3", "tiers", "B c", "é", "note"])
SCALARS = st.one_of(
    st.integers(-9, 99),
    st.booleans(),
    st.sampled_from(["2 mm", 'say "x"', "back\\slash", "A A\nB C\n", "", "\x7f", "# none", "é"]),
    st.sampled_from([0.5, 1.5, -2.0]),
)


def _deeper(inner: SearchStrategy[Any]) -> SearchStrategy[Any]:
    return st.lists(inner, max_size=3) | st.dictionaries(NAMES, inner, max_size=3)


VALUES = st.recursive(SCALARS, _deeper, max_leaves=5)
TABLES: SearchStrategy[dict[str, Any]] = st.dictionaries(NAMES, VALUES, max_size=4)
#: What an issue is to those that write its text: some values, tables, and a list of tables.
FILES = st.fixed_dictionaries(
    {"pages": st.lists(TABLES, min_size=1, max_size=4)},
    optional={
        "title": SCALARS,
        "gutter": VALUES,
        "format": TABLES,
        "layouts": st.dictionaries(NAMES, TABLES, min_size=1, max_size=2),
    },
)


@st.composite
def spelled_at_random(draw: DrawFn, values: dict[str, Any]) -> str:
    """A file that holds these values."""
    writer = _Writer(draw)
    top = {key: value for key, value in values.items() if not _is_tables(value)}
    below = {key: value for key, value in values.items() if _is_tables(value)}
    writer.body(top)
    for key, value in below.items():
        writer.tables([key], value)
    text = "".join(writer.out)
    if draw(st.booleans()):
        text = text.rstrip("\n") + draw(st.sampled_from(["", "\n", "\n# the end", "\n\n\n"]))
    return text.replace("\n", "\r\n") if draw(st.integers(0, 9)) == 9 else text


def _is_tables(value: Any) -> bool:
    if isinstance(value, list):
        return bool(value) and all(isinstance(item, dict) for item in value)
    return isinstance(value, dict)


class _Writer:
    def __init__(self, draw: DrawFn):
        self.draw = draw
        self.out: list[str] = []

    def one(self, *words: str) -> str:
        return self.draw(st.sampled_from(words))

    def aside(self) -> None:
        """Nothing, an empty line, or a comment on a line of its own."""
        self.out.append(self.one("", "", "\n", "# aside\n", "\n# far\n\n", "  # set in\n"))

    def comment(self) -> str:
        return self.one("", "", "  # why", " #\t=")

    def key(self, *names: str) -> str:
        return self.one(".", ".", " . ").join(
            name if re.fullmatch(r"[A-Za-z0-9_-]+", name) else json.dumps(name, ensure_ascii=False)
            for name in names
        )

    def body(self, table: dict[str, Any], names: tuple[str, ...] = ()) -> None:
        for name, value in table.items():
            if isinstance(value, dict) and value and self.one("dotted", "inline") == "dotted":
                self.body(value, (*names, name))
                continue
            self.aside()
            indent, equals = self.one("", "", "  "), self.one(" = ", "=", "  = ")
            self.out.append(f"{indent}{self.key(*names, name)}{equals}{self.value(value)}")
            self.out.append(f"{self.comment()}\n")

    def tables(self, names: list[str], value: Any) -> None:
        self.aside()
        parts = isinstance(value, dict) and self.one("heading", "heading", "parts") == "parts"
        if parts and value and all(isinstance(inner, dict) for inner in value.values()):
            for name, inner in value.items():
                self.tables([*names, name], inner)
            return
        for table in value if isinstance(value, list) else [value]:
            brackets = "[[", "]]" if isinstance(value, list) else "]"
            opening = brackets[0] if isinstance(value, list) else "["
            self.out.append(f"{opening}{self.key(*names)}{brackets[1]}{self.comment()}\n")
            under = {k: v for k, v in table.items() if self._goes_under(v)}
            self.body({k: v for k, v in table.items() if k not in under})
            for name, inner in under.items():
                self.tables([*names, name], inner)
            self.aside()

    def _goes_under(self, value: Any) -> bool:
        return _is_tables(value) and self.one("under", "here") == "under"

    def value(self, value: Any) -> str:
        if isinstance(value, bool):
            return str(value).lower()
        if isinstance(value, str):
            return self.text(value)
        if isinstance(value, list):
            return self.list([self.value(item) for item in value])
        if isinstance(value, dict):
            pairs = [f"{self.key(name)} = {self.value(inner)}" for name, inner in value.items()]
            return "{" + self.one("", " ") + ", ".join(pairs) + self.one("", " ") + "}"
        return str(value)

    def text(self, value: str) -> str:
        if "\n" in value and self.one("lines", "escapes") == "lines":
            return f'"""\n{value}"""'
        if not re.search(r"['\x00-\x1f\x7f]", value) and self.one("literal", "basic") == "literal":
            return f"'{value}'"
        return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")

    def list(self, items: list[str]) -> str:
        if not items or self.one("line", "lines") == "line":
            return f"[{self.one('', ' ')}{', '.join(items)}{self.one('', ' ')}]"
        lines = [f"  {item}{self.one('', ' ')},{self.comment()}\n" for item in items]
        if self.one("comma", "none") == "none":
            lines[-1] = f"  {items[-1]}{self.comment()}\n"
        between = self.one("", "", "  # within\n")
        return "[" + self.comment() + "\n" + between.join(lines) + "]"
