"""Settings of the tests that run a command in this process."""

import gc

import pytest


@pytest.fixture(autouse=True)
def _garbage_collection():
    """A command ends its process and collects no garbage; the tests go on."""
    yield
    gc.enable()
