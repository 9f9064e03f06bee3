"""What every test shares: the Hypothesis profile, and the rule pack that ships."""

from __future__ import annotations

import gc
import shutil
import signal
import threading

import pytest
import yaml
from hypothesis import HealthCheck, settings
from support.installed import shared_folder
from support.one_pack import read_once

from rigcheck.rules.folders import rules_folder
from rigcheck.rules.load import load_pack
from rigcheck.rules.pack import Pack

# A worker keeps packs and rigs of thousands of tests: going through them at every turn took a fifth of the run.
gc.set_threshold(50_000, 20, 50)

# What tests read and write with the plain library: its own C half does the same in a tenth of the time.
yaml.SafeLoader, yaml.SafeDumper = yaml.CSafeLoader, yaml.CSafeDumper  # type: ignore[misc, assignment]

read_once()

# What runs in the background of a shell ignores Ctrl-C, and hands that on to the commands that tests start.
if threading.current_thread() is threading.main_thread():
    signal.signal(signal.SIGINT, signal.default_int_handler)

# The same examples on every run: a red test is a change of the code, never of the dice.
_same = settings(deadline=None, derandomize=True, database=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("rigcheck", _same, max_examples=15)
settings.register_profile("whole", _same, max_examples=100)
settings.load_profile("rigcheck")


def pytest_configure(config: pytest.Config) -> None:
    """Draw more examples where all is tried that there is."""
    if config.option.markexpr in ("whole", "whole or not whole"):
        settings.load_profile("whole")


def pytest_sessionfinish(session: pytest.Session) -> None:
    """Take away, where workers were started, the install that they shared."""
    workers = session.config.pluginmanager.getplugin("dsession")
    if workers is not None:
        shutil.rmtree(shared_folder(workers.nodemanager.testrunuid), ignore_errors=True)


@pytest.fixture(scope="session")
def pack() -> Pack:
    """The rules that ship."""
    return load_pack(rules_folder())
