"""What of a master is ignored, each kind told once, and what is only seemingly hidden."""

import pytest

from tests.masters.svg_samples import area, codes, good, read, seam, square

# What is ignored


def test_each_kind_that_is_ignored_is_told_once_with_its_count():
    extras = (
        '<text x="1" y="2">a</text><text>b</text><image width="5" height="5"/>'
        '<clipPath id="k"><path d="M0 0"/></clipPath>'
        '<g display="none"><path d="M0 0h5"/></g><path d="M1 1h1" style="visibility: hidden"/>'
        '<path id="stray" d="M3 3h3"/>'
    )
    drawn, findings = read(seam('<rect width="50" height="50"/>').replace("</svg>", extras + "</svg>"))
    assert drawn is not None
    told = {f.code: f.found for f in findings if f.severity == "info"}
    assert told == {
        "ignored-text": "2",
        "ignored-image": "1",
        "ignored-clip": "1",
        "ignored-hidden": "2",
        "ignored-ungrouped": "1",
    }


@pytest.mark.parametrize(
    "hide",
    [
        '<g display="none">{}</g>',
        '<g style="fill:red;display:none">{}</g>',
        '<g visibility="hidden">{}</g>',
        '<style>.h{{display:none}}</style><g class="a h">{}</g>',
        '<style>g.h, #z{{fill:red;visibility:hidden}}</style><g class="h">{}</g>',
        '<style>.h{{display:none !important}}</style><g class="h" style="display:inline">{}</g>',
        '<style>.h{{visibility:hidden!IMPORTANT}}</style><g class="h" visibility="visible">{}</g>',
        '<style>.x{{font-family:"}}"}} .h{{display:none}}</style><g class="h">{}</g>',
        '<g style="display:none!important;display:inline">{}</g>',
        '<g style="disp\\6c ay:none">{}</g>',
        '<g style="a{{b:c}}display:none">{}</g>',
        "<style>@font-face{{src:url(data:AAAA)}} /* }} */ .h{{display:none}}</style><g class='h'>{}</g>",
        "<defs>{}</defs>",
        "<symbol>{}</symbol>",
    ],
)
def test_hidden_edges_do_not_count(hide):
    visible = '<rect width="50" height="50"/>'
    assert area(good(seam(visible + hide.format('<path id="no" d="M0 0h9"/>')))) == 2500


@pytest.mark.parametrize(
    "style",
    [
        "font-family:'A; d: b'",
        "--note:{d:1}",
        "content:'display:none'",
        "marker:url(#transform:1)",
        "fill:red;/* x:1 */",
    ],
)
def test_what_only_looks_like_a_declaration_is_none(style):
    drawn, findings = read(seam(f'<rect width="5" height="5" style="{style}"/>'))
    assert drawn is not None
    assert not [finding for finding in findings if finding.severity == "block"]
    assert area(drawn) == 25


@pytest.mark.parametrize("value", ["visible", "initial", "visible !important"])
def test_what_is_visible_in_a_hidden_group_is_drawn(value):
    drawn = good(seam(f'<g visibility="hidden"><rect width="5" height="5" style="visibility:{value}"/></g>'))
    assert area(drawn) == 25


def test_an_object_that_carries_a_groups_name_without_a_group_is_warned_of():
    findings = read(square('<line id="grain" x1="5" y1="5" x2="5" y2="90"/>'))[1]
    assert "name-without-group" in codes(findings)
