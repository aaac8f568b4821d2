"""What holds for a whole issue, and may stand in the file of its series as well."""

from __future__ import annotations

from typing import Annotated, Any, ClassVar, Literal

from pydantic import BeforeValidator, Field

from guidekit.issue.models.book import IssueAsBook
from guidekit.issue.models.part import FEW, Layout
from guidekit.preset.guides import Switches
from guidekit.preset.model import Preset
from guidekit.toml.model import Name, at_most, some

#: Keys of a preset that are looked for at the top of an issue, or on a page.
IN_FORMAT = {key: f"{key} under [format], or format.{key}" for key in Preset.model_fields} | {
    old: f"{new}{',' if ',' in new else ''} under [format]" for old, new in Preset.renamed.items()
}


class Series(IssueAsBook):
    """What issues of a series have in common; each key as in an issue."""

    example: ClassVar = {"title": "The Salt Road", "preset": "us-comic"}
    elsewhere: ClassVar = IN_FORMAT | {
        "pages": "pages in the issue",
        "number": "number in the issue",
    }

    title: Name | None = None
    preset: Name | None = None
    direction: Literal["ltr", "rtl"] | None = None
    label_font: Name | None = None
    format: dict[str, Any] = Field(default_factory=dict)
    guides: Switches = Field(default_factory=dict)
    layouts: Annotated[dict[Name, Layout], FEW] = Field(default_factory=dict)


class SeriesFile(Series):
    """The file of a series: what its issues share and, for commands that take all of them, which.

    `issues` are files of issues or folders of one each, seen from the series' own folder.
    """

    example: ClassVar = {"title": "The Salt Road", "issues": ["one/one.toml", "two/two.toml"]}

    issues: Annotated[tuple[Name, ...], at_most(1_000), BeforeValidator(some)] | None = None
