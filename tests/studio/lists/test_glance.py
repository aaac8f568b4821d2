"""What is seen of a preset at a glance."""

import pytest
from support.samples import REPOSITORY

from guidekit.studio.lists.rows import glance


@pytest.mark.parametrize(
    "text",
    [
        'title = "A"\ntrim = { width = "1 mm", height = "2 mm" }\n[guides]\ntrim = "off"\n',
        'based_on = "x"\ndrawing = [\n"title = 3",\n]\ntitle = "B"\n',
        'title = """A\ndpi = 3\n"""\ndpi = 300\n',
        'title = "A"\n[trim]\nwidth = "1 mm"\nheight = "2 mm"\n',
        'title = "A"\ntrim.width = "1 mm"\ntrim.height = "2 mm"\n[[x]]\ntitle = "C"\n',
        'about = "x"\n',
        'trim = { width = "1 mm", # wide\nheight = "2 mm" }\n',
    ],
)
def test_a_glance(text: str) -> None:
    """What is seen of a file at a glance is what is in it, of the keys that lists show."""
    import tomllib

    keys = ("title", "dpi", "trim", "scroll", "based_on")
    try:
        whole = tomllib.loads(text)
    except ValueError:
        with pytest.raises(ValueError, match="line"):
            glance(text.encode())
        return
    seen = glance(text.encode())
    assert {key: seen[key] for key in keys if key in seen} == {
        key: whole[key] for key in keys if key in whole
    }


def test_shipped_presets_at_a_glance() -> None:
    """Each shipped preset shows at a glance what is in it."""
    for path in (REPOSITORY / "presets").glob("*.toml"):
        test_a_glance(path.read_text("utf-8"))
