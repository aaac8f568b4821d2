"""What holds for every test: how many random examples, that no clock decides, and no settings."""

import os
from pathlib import Path

from hypothesis import HealthCheck, settings

#: A slow machine is no failure: examples have no deadline, and take the time they take.
settings.register_profile(
    "every",
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.register_profile("first", settings.get_profile("every"), max_examples=15)
settings.register_profile("thorough", settings.get_profile("every"), max_examples=100)
settings.register_profile(
    "search", settings.get_profile("every"), max_examples=1000, derandomize=False
)
settings.load_profile("thorough" if os.environ.get("CI") else "first")

#: Nothing that the user of this machine has set counts in a test.
for name in ("XDG_CONFIG_HOME", "XDG_DATA_HOME"):
    os.environ[name] = str(Path(__file__).with_name("no-settings"))
os.environ.pop("GUIDEKIT_STUDIO", None)
