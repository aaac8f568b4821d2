"""What the models of files say about themselves: examples, old names, what belongs elsewhere."""

from typing import Any

import pytest
from pydantic import BaseModel

import guidekit.issue.models.issue
import guidekit.preset.model
import guidekit.studio.lock.model
import guidekit.studio.pack_file.card  # all models are loaded with these
import guidekit.studio.settings.model
from guidekit.toml import Model


def models(model: type[BaseModel] = Model) -> list[type[Model]]:
    """Every model of a table of a file."""
    found = [inner for one in model.__subclasses__() for inner in models(one)]
    return [*model.__subclasses__(), *found]  # type: ignore[list-item]


MODELS = [model for model in models() if model.__module__.startswith("guidekit")]


def test_the_models_are_found() -> None:
    """The tests below see the models of presets and of issues."""
    assert {guidekit.issue.models.issue.Page, guidekit.preset.sizes.Size} < {*MODELS}


@pytest.mark.parametrize("model", MODELS, ids=lambda model: model.__name__)
def test_an_example_is_a_right_one(model: type[Model]) -> None:
    """The example of a table is accepted as it stands, and has every key that must be there."""
    assert model.model_validate(model.example)
    needed = {key for key, field in model.model_fields.items() if field.is_required()}
    assert needed <= model.example.keys()


@pytest.mark.parametrize("model", MODELS, ids=lambda model: model.__name__)
def test_samples_are_right_ones(model: type[Model]) -> None:
    """Every sample is accepted, of a key that may be left out."""
    for key, sample in model.samples.items():
        assert model.model_validate({**model.example, key: sample})
        assert not model.model_fields[key].is_required()


@pytest.mark.parametrize("model", MODELS, ids=lambda model: model.__name__)
def test_old_names(model: type[Model]) -> None:
    """A key that has another name now is no key, and the new one is."""
    known = {*model.model_fields, *model.also_known}
    for old, new in model.renamed.items():
        assert old not in known
        assert new.partition(" ")[0].rstrip(",") in known


def test_what_belongs_to_the_format() -> None:
    """Every key of a preset that neither an issue nor a page has leads to the format."""
    preset = guidekit.preset.model.Preset
    issue, page = guidekit.issue.models.issue.Issue, guidekit.issue.models.issue.Page
    keys: dict[str, Any] = preset.model_fields | preset.renamed
    for key in keys.keys() - issue.model_fields.keys() - issue.renamed.keys():
        assert "under [format]" in issue.elsewhere[key]
        if key not in page.model_fields | page.renamed:
            assert "under [format]" in page.elsewhere[key]


def test_what_belongs_above_the_pages_or_on_one() -> None:
    """A key of the issue that stands on a page leads to the top, one of a page there to pages."""
    issue, page = guidekit.issue.models.issue.Issue, guidekit.issue.models.issue.Page
    for key in issue.model_fields.keys() - page.model_fields.keys() - {"pages"}:
        assert "at the top" in page.elsewhere[key]
    preset = guidekit.preset.model.Preset.model_fields
    for key in page.model_fields.keys() - issue.model_fields.keys() - preset.keys():
        assert "under [[pages]]" in issue.elsewhere[key]
