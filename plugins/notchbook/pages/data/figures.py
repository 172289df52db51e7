"""How many digits the results in the data folder have: as many as every machine works out alike."""

from typing import Any

PUBLISHED_FIGURES = 10
"""Significant figures. Other versions of the packages, and other processors, differ from the 14th on."""


def published(value: Any) -> Any:
    """Results as they are published: every number with a fraction rounded, also within mappings and lists."""
    if isinstance(value, float):
        return float(f"{value:.{PUBLISHED_FIGURES}g}")
    if isinstance(value, dict):
        return {key: published(each) for key, each in value.items()}
    return [published(each) for each in value] if isinstance(value, list) else value
