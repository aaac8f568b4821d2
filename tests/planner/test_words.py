"""All words of the planner stand in one table, so that a translation is another table."""

import re
from typing import Any

from support.planning import Tab, opened
from support.samples import REPOSITORY

STATIC = REPOSITORY / "guidekit" / "planner" / "static"

#: Marks each word of the table, but for the names of values that stand in braces.
MARKED = r"""
const marked = (said) => typeof said === "string"
  ? said.replace(/\p{L}+(?![^{]*\})/gu, (word) => "¤" + word) : said.map(marked);
for (const key of Object.keys(WORDS)) WORDS[key] = marked(WORDS[key]);
"""

#: What is on the page, read or told.
ON_PAGE = """() => [...document.body.querySelectorAll(":not(noscript)")].flatMap((element) => [
  ...[...element.childNodes].filter((node) => node.nodeType === 3).map((node) => node.data),
  ...["aria-label", "aria-valuetext", "title", "placeholder"].map(
    (name) => element.getAttribute(name)),
]).join("\\n")"""

#: What the server says of this issue.
SAID = """async () => (await Promise.all(
  ["/book", "/choices", "/format", "/page/3", "/shelf/3?panels="].map(
    async (path) => (await fetch(path)).text()))).join("\\n")"""


def words_of(text: str) -> set[str]:
    """All runs of two letters and more, each with its mark if it has one."""
    return set(re.findall(r"¤?[^\W\d_]{2,}", text))


def test_every_word_is_in_the_table_and_used() -> None:
    """What is said has words in the table, and all of the table is said somewhere."""
    code = {path.name: path.read_text("utf-8") for path in STATIC.glob("*.js")}
    table = code.pop("words.js")
    keys = {one.strip('"') for one in re.findall(r'^  ("[^"]+"|\w+):', table, re.MULTILINE)}
    text = "\n".join(code.values())
    assert set(re.findall(r'say\("(\w+)"', text)) <= keys
    begun = {key.partition("_")[0] + "_${" for key in keys}
    assert [
        key
        for key in keys
        if not re.search(rf"\b{re.escape(key)}\b", text)
        and not any(begin in text for begin in begun if key.startswith(begin[:-2]))
    ] == []


def test_no_word_is_outside_the_table(browser: Any, tmp_path: Any) -> None:
    """In another language all is in it but what the server says of the issue and its formats."""
    issue = tmp_path / "salt-road.toml"
    issue.write_bytes((REPOSITORY / "examples" / "salt-road.toml").read_bytes())
    table = (STATIC / "words.js").read_text("utf-8") + MARKED
    with opened(browser, issue, words=table) as tab:
        found = words_of(look_round(tab))
        known = words_of(tab.page.evaluate(SAID)) | {"guidekit", "salt", "road", "toml"}
    assert {word for word in found if not word.startswith("¤")} - known == set()
    assert len(found) > 200


def look_round(tab: Tab) -> str:
    """All that stands in the book, in its windows and on a page where all is unfolded."""
    page = tab.page
    texts = [page.evaluate(ON_PAGE)]
    for place in range(1, 4):
        page.locator("nav button:enabled").nth(place - 1).click()
        tab.settle()
        texts.append(page.evaluate(ON_PAGE))
        tab.key("Escape")
    tab.open(3)
    page.locator("[data-panel='1']").first.click()
    for part in page.locator("summary").all():
        part.click()
        tab.settle()
    return "\n".join([*texts, page.evaluate(ON_PAGE)])
