"""Digests that are the same on every system: canonical JSON."""

import tomllib
from hashlib import sha256

import pytest

from guidekit.digest import digest_of

#: RFC 8785, sections 3.2.2 and 3.2.3: what goes in, and the bytes that come out of it.
SAMPLE = {
    "numbers": [333333333.33333329, 1e30, 4.50, 2e-3, 0.000000000000000000000000001],
    "string": "\u20ac$\u000f\u000aA'\u0042\u0022\u005c\\\"/",
    "literals": [None, True, False],
}
CANONICAL = (
    '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],'
    '"string":"\u20ac$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}'
)
#: The same, section 3.2.3: keys are sorted as UTF-16, by which the smiley is before U+FB33.
KEYS = ("\u20ac", "\r", "\ufb33", "1", "\U0001f600", "\u0080", "\u00f6")
IN_ORDER = '{"\\r":0,"1":0,"\u0080":0,"\u00f6":0,"\u20ac":0,"\U0001f600":0,"\ufb33":0}'


def test_the_standard() -> None:
    """The samples of the standard have the digests of the bytes that it gives for them."""
    assert digest_of(SAMPLE) == sha256(CANONICAL.encode()).hexdigest()
    assert digest_of(dict.fromkeys(KEYS, 0)) == sha256(IN_ORDER.encode()).hexdigest()


@pytest.mark.parametrize(
    "text",
    [
        'b = 16\na = ["x", 1.5]\n',
        'a = ["x", 1.5]\r\nb = 16\r\n',
        "# words\nb = 0x1_0\na = ['x', 15e-1]\n",
        'a = [ # words\n  "\\u0078",\n  1.50,\n]\n"b" = +16\n',
    ],
)
def test_other_spellings(text: str) -> None:
    """Line ends, order of keys, comments and spelling of numbers and letters change nothing."""
    assert digest_of(tomllib.loads(text)) == digest_of({"a": ["x", 1.5], "b": 16})


def test_other_values() -> None:
    """A value that differs gives another digest, letters also where they only look alike."""
    values = ({"a": "1"}, {"a": 1}, {"a": True}, {"a": [1]}, {"a": "\u00e9"}, {"a": "e\u0301"})
    assert len({digest_of(value) for value in values}) == len(values)
