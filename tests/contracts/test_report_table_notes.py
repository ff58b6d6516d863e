"""The readings table of a report says by itself what an evaluation of it rests on."""

from __future__ import annotations

from hr6_example import report_content

from waywright.report import line_table


def test_the_table_says_how_the_axes_lie_and_what_was_left_out() -> None:
    content = report_content()
    notes = line_table(content, content.main).metadata
    assert (notes["up"], notes["operator"]) == (content.machine.axes.up, content.machine.axes.operator) == ("-Y", "+X")
    assert notes["excluded"] == "; ".join(
        f"pass {each.pass_number}, {each.position_mm:g} mm, {each.reason}" for each in content.main.excluded
    )
