"""What holds for every test: random examples, no clock, no settings, how many cores; a browser."""

from __future__ import annotations  # pytest 8.0 has not all of its types

import os
import signal
from collections.abc import Iterator
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from hypothesis import HealthCheck, settings
from support.browser import chromium
from support.long import IN_CI

#: A slow machine is no failure: examples have no deadline, and take the time they take.
settings.register_profile(
    "every",
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.register_profile("first", settings.get_profile("every"), max_examples=10)
settings.register_profile("thorough", settings.get_profile("every"), max_examples=100)
settings.register_profile(
    "search", settings.get_profile("every"), max_examples=1000, derandomize=False
)
settings.load_profile("thorough" if IN_CI else "first")

#: Nothing that the user of this machine has set counts in a test.
_HOME = TemporaryDirectory(prefix="guidekit-home-")  # goes when the tests end
for name in ("XDG_CONFIG_HOME", "XDG_DATA_HOME"):
    os.environ[name] = _HOME.name
os.environ.pop("GUIDEKIT_STUDIO", None)


def pytest_xdist_auto_num_workers(config: pytest.Config) -> int:
    """All tests together run on up to four cores; some of them in one process, which starts sooner.

    What pytest is called with says which; a number after ``-n`` counts before this.
    """
    whole = config.args_source is pytest.Config.ArgsSource.TESTPATHS
    return min(4, os.cpu_count() or 1) if whole else 0


def pytest_runtest_setup(item: pytest.Item) -> None:
    """What takes long is left to CI; all of a file is told in one line."""
    if not IN_CI and item.get_closest_marker("long"):
        pytest.skip(f"long ones of {item.path.relative_to(item.config.rootpath)}")


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """After a user's run say how to have what it left out."""
    if not IN_CI:
        terminalreporter.write_line(
            "Long tests were left out, and random examples were few. CI=1 pytest runs all, and "
            "fails where a library or program to compare with is missing."
        )


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    """Chromium, as the system has it; while its driver runs, `asyncio.run` cannot be called."""
    with chromium() as found:
        yield found


@pytest.fixture
def interruptible() -> Iterator[None]:
    """Ctrl-C as Python has it, also where the shell of a background job wants it ignored."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)
