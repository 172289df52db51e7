"""Foreign text in a comment stays text."""

import re

from hypothesis import example, given
from hypothesis import strategies as st

import small_handbook as small
from notchbook.review.comparison import compare
from notchbook.review.forms import as_markdown, code

HOSTILE = "](http://evil.example) | `` <img src=x onerror=alert(1)> @everyone #12 \n\n# head"


@given(text=st.text())
@example(text="`")
@example(text="``` | `")
@example(text=HOSTILE)
def test_code_ends_where_the_text_does(text):
    shown = code(text)
    fence = re.match("`+", shown)[0]
    inside = shown[len(fence) : -len(fence)]
    assert shown.endswith(fence)
    # a run of as many backticks would end it earlier
    assert fence not in re.findall("`+", inside)
    assert "\n" not in shown
    # a bar that is not escaped would begin the next cell
    assert not re.search(r"(?<!\\)\|", shown)


def test_a_hostile_record_makes_one_table(tmp_path):
    old = small.opened(tmp_path / "old")
    contents = small.files()
    contents[small.TEST]["notes"] = HOSTILE
    contents[small.TEST]["specimens"][0]["excluded"] = HOSTILE
    shown = as_markdown(compare(old, small.opened(tmp_path / "new", contents), "0123abc"))
    outside = re.sub(r"(`+).*?(?<!`)\1(?!`)", "", shown)
    for sign in ("evil", "<img", "@everyone", "#12", "alert"):
        assert sign not in outside
    for line in outside.splitlines():
        if line.startswith("|"):
            assert line.count("|") == line.count(" |") + 1


def test_long_tables_are_folded_and_short_ones_are_not(tmp_path):
    old = small.opened(tmp_path / "old")
    contents = small.files()
    for specimen in contents[small.TEST]["specimens"][:3]:
        specimen["rise_angle_deg"] += 0.2
    few = as_markdown(compare(old, small.opened(tmp_path / "few", contents), "0123abc"))
    assert "<details>" not in few
    for specimen in contents[small.TEST]["specimens"]:
        specimen["thickness_mm"] += 0.01
    many = as_markdown(compare(old, small.opened(tmp_path / "many", contents), "0123abc"))
    assert many.count("<details>") == many.count("</details>") == 1
    assert "<summary>13 rows</summary>" in many
