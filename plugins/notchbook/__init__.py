"""Notchbook: data files of a pendulum impact laboratory in, a checked and computed handbook out."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from notchbook.version import __version__

if TYPE_CHECKING:
    from notchbook.findings import Finding, Severity
    from notchbook.handbook import Handbook
    from notchbook.public import open_handbook, results

__all__ = ["Finding", "Handbook", "Severity", "__version__", "open_handbook", "results"]
_HOMES = {
    "Finding": "findings",
    "Severity": "findings",
    "Handbook": "handbook",
    "open_handbook": "public",
    "results": "public",
}
"""The module of each public name; none is loaded before it is asked for."""


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module 'notchbook' has no attribute '{name}'")
    from importlib import import_module

    return getattr(import_module(f"notchbook.{_HOMES[name]}"), name)


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
