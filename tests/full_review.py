"""A review that holds something of every kind."""

from notchbook.findings import Finding, Severity
from notchbook.review.changes import Edit, FileChange, Renamed, ResultMove, Review, SettingEdit, SetupChange


def everything(text, number=1):
    """A review in which every text is this one."""
    edit = Edit(text, 1, text, text, f"{text}.", "changed")
    finding = Finding("file-text", Severity.ERROR, text, 1, 1, text, text)
    return Review(
        text,
        safety=[edit, Edit(text, 1, "", None, text, "added"), Edit(text, 1, text, f"1. {text}", f"2. {text}", "moved")]
        * number,
        not_compared=[text] * number,
        settings=[SettingEdit(edit, "what it decides")] * number,
        grave=["what it decides"],
        files=[FileChange("page", text, "changed", 1, 2), FileChange("script", text, "added", None, None)] * number,
        readings=[edit] * number,
        identities=[edit] * number,
        declarations=[edit] * number,
        statements=[edit, Edit(text, 2, text, text, None, "removed")] * number,
        added=[("test", text)] * number,
        removed=[("test", text)] * number,
        unreadable=[("verification", text)] * number,
        renamed=[Renamed("test", text, f"{text}2")] * number,
        moves=[ResultMove(text, (text,), 1.0, 2.0, 0.1, (text,))] * number,
        setup=[
            SetupChange(
                "rig",
                text,
                text,
                "changed",
                (Edit(text, 3, text, text, f"{text}!"),),
                (text,) * 20,
                (text,),
                beyond_words=True,
            ),
            SetupChange("exercise", text, text, "added", (), ()),
        ]
        * number,
        new_findings=[finding] * number,
        gone_findings=[finding] * number,
    )
