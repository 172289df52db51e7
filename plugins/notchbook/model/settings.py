"""What a department says of its handbook as a whole."""

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class Settings:
    """Where the data lies and what is done with a departure from the method."""

    procedures: str = "procedures"
    """Folder of the procedures, relative to the handbook's root."""
    results: str = "results"
    """Folder of the results, relative to the handbook's root."""
    deviations: Literal["refuse", "label"] = "refuse"
    """`refuse`: a departure fails the build; `label`: a declared one is published and marked."""
    notice: str = ""
    """Shown at the top of every page, such as that the data is invented."""
    prose: str | None = None
    """Folder of the hand-written pages, relative to the handbook's root; None where no site is set up."""
    theme: str | None = None
    """Folder of the theme's own files, relative to the handbook's root; None where there is none."""
    raw_html: Literal["refuse", "publish"] = "refuse"
    """What is done with HTML of hand-written pages that can do more than say or show something, and with such files."""
    language: str = "en"
    """Language of the site, of its notice and its hand-written pages (BCP 47); what is computed is English."""

    @property
    def is_english(self) -> bool:
        """Whether the site is in English too, as all is that is computed."""
        return self.language.lower().split("-")[0] == "en"
