"""Packs that mean harm: each is refused with a message, and nothing on the disk has changed."""

import stat
import struct
import zipfile
from hashlib import sha256
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.homes import home
from support.samples import contents

from guidekit.errors import InputError
from guidekit.studio.pack_file.archive import pack_bytes, pack_in
from guidekit.studio.pack_file.card import CARD, LARGEST_FILE, MOST_FILES, card_text

PRESET = b'based_on = "us-comic"\ntitle = "House"\n'
CARD_OF = {"name": "studio", "version": "1"}
SOUND = pack_bytes({**CARD_OF}, {"house.toml": PRESET})


def archive(
    inside: dict[str, bytes], *, mode: int = stat.S_IFREG, method: int = 0, **card: Any
) -> bytes:
    """A pack with whatever names; they are all on its card, with their digests."""
    out = BytesIO()
    digests = {name: sha256(data).hexdigest() for name, data in inside.items()}
    text = card_text({"pack": 1, **CARD_OF, "files": digests} | card)
    with zipfile.ZipFile(out, "w", method) as made:
        for name, data in {CARD: text, **inside}.items():
            info = zipfile.ZipInfo(name)
            info.filename = name
            info.external_attr = ((mode if name != CARD else stat.S_IFREG) | 0o644) << 16
            info.compress_type = method
            made.writestr(info, data)
    return out.getvalue()


def flagged(bit: int) -> bytes:
    """The sound pack with a bit set in the flags of its last entry."""
    at = SOUND.rindex(b"PK\1\2") + 8
    (flags,) = struct.unpack_from("<H", SOUND, at)
    return SOUND[:at] + struct.pack("<H", flags | bit) + SOUND[at + 2 :]


def bomb() -> bytes:
    """A file that says that it is small and is not."""
    data = archive({"house.toml": b"#" * 3_000_000}, method=zipfile.ZIP_DEFLATED)
    at = data.rindex(b"PK\1\2") + 24
    return data[:at] + struct.pack("<I", 10) + data[at + 4 :]


HOSTILE = {
    "../out.toml": archive({"../out.toml": PRESET}),
    "/out.toml": archive({"/tmp/out.toml": PRESET}),
    "C:/out.toml": archive({"C:/out.toml": PRESET}),
    "backslash": archive({"..\\out.toml": PRESET}),
    "nul": archive({"nul.toml": PRESET}),
    "COM1": archive({"layouts/COM1.x.toml": PRESET}),
    "a dot at the end": archive({"house.toml.": PRESET}),
    "a newline": archive({"ho\nuse.toml": PRESET}),
    "right to left": archive({"ho\u202euse.toml": PRESET}),
    "decomposed": archive({"e\u0301.toml": PRESET}),
    "of a kind of its own": archive({"run.py": b"print(1)"}),
    "too deep": archive({"layouts/x/y.toml": PRESET}),
    "only by case": archive({"house.toml": PRESET, "House.toml": PRESET}),
    "only by folding": archive({"stra\u00dfe.toml": PRESET, "strasse.toml": PRESET}),
    "a link": archive({"house.toml": b"/etc/passwd"}, mode=stat.S_IFLNK),
    "a device": archive({"house.toml": b""}, mode=stat.S_IFCHR),
    "encrypted": flagged(1),
    "another method": archive({"house.toml": PRESET}, method=zipfile.ZIP_BZIP2),
    "a bomb": archive({"house.toml": b"#" * (LARGEST_FILE + 1)}, method=zipfile.ZIP_DEFLATED),
    "a hidden bomb": bomb(),
    "many files": archive({f"f{n}.toml": b"" for n in range(MOST_FILES)}),
    "wrong digest": archive({"house.toml": PRESET}, files={"house.toml": "0" * 64}),
    "one more": archive({"house.toml": PRESET}, files={}),
    "one less": archive({}, files={"house.toml": "0" * 64}),
    "no card": SOUND.replace(b"card.toml", b"cart.toml"),
    "not a zip": b"PK\3\4 and nothing else",
    "nothing": b"",
    "newer": archive({"house.toml": PRESET}, pack=2),
    "a name that leads out": archive({"house.toml": PRESET}, name="../studio"),
    "no preset": archive({"house.toml": b'title = "x"\n'}),
    "no layout": archive({"layouts/x.toml": b"[x]\ntiers = [0]\n"}),
    "not TOML": archive({"house.toml": b"\xff"}),
    "based on nothing": archive({"house.toml": b'based_on = "no-such"\n'}),
    "based on a file outside": archive({"house.toml": b'based_on = "../../x.toml"\n'}),
    "in a circle": archive({"a.toml": b'based_on = "b"\n', "b.toml": b'based_on = "a"\n'}),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile(name: str, tmp_path: Path) -> None:
    """It is refused with exit code 2, and every file is as it was."""
    maker = home(tmp_path)
    pack = maker.folder / "studio.zip"
    pack.parent.mkdir()
    pack.write_bytes(HOSTILE[name])
    before = contents(tmp_path)
    run = maker.run("presets", "add", pack, "--yes")
    assert (run.code, run.out) == (2, ""), run
    assert "Traceback" not in run.err
    assert contents(tmp_path) == before


def test_the_sound_one() -> None:
    """What the others are made of is sound, however it is packed."""
    for data in (SOUND, archive({"house.toml": PRESET}, method=zipfile.ZIP_DEFLATED)):
        assert pack_in(data, Path("x.zip")).files == {"house.toml": PRESET}


@given(st.data())
def test_fuzzed(data: st.DataObject) -> None:
    """Whatever bytes differ, a pack is sound and says the same, or is refused and nothing else."""
    broken = bytearray(SOUND)
    for _ in range(data.draw(st.integers(1, 4))):
        at = data.draw(st.integers(0, len(broken) - 1))
        broken[at] = data.draw(st.integers(0, 255))
    cut = data.draw(st.sampled_from([len(broken), len(broken) // 2, len(broken) - 3]))
    try:
        pack = pack_in(bytes(broken[:cut]), Path("x.zip"))
    except InputError:
        return
    assert pack.files == {"house.toml": PRESET}
