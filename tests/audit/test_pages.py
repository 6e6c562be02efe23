"""A published page, style sheet or drawing runs, loads and follows nothing by itself."""

# ruff: noqa: E501 - lists of hostile markup read best as they are

from __future__ import annotations

import base64
import hashlib

import pytest

from journey.audit.pages import drawing_findings, page_findings, style_findings
from tests.canaries import POLICY, page


def with_script(script: str, *, named: bool = True) -> str:
    digest = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
    policy = f"{POLICY}; script-src 'sha256-{digest}'" if named else POLICY
    return page(f"<script>{script}</script>").replace(POLICY, policy)


def test_a_page_as_we_write_it_is_well_built() -> None:
    """Policy first, relative addresses, classes, an inline script named by its hash, a link a person clicks."""
    body = (
        '<a href="#top">up</a><a href="https://example.org/care">care</a><img src="p01-480.jpg" '
        'srcset="p01-480.jpg 480w, pictures/p01-960.jpg 960w" alt="x"><svg><use href="#mark"/>'
        '<path fill="url(#grain)" d="M0 0"/></svg><input type="range" id="w"><details><summary>x</summary></details>'
    )
    assert page_findings(page(body)) == ()
    assert page_findings(with_script("document.title='a<b'")) == ()


@pytest.mark.parametrize(
    "body",
    [
        '<p onclick="x()">x</p>', "<img src=x.jpg ONERROR=x()>", "<svg onload=x()></svg>", '<p style="color:red">x</p>',
        '<img src="https://tracker.example/p.gif">', '<img src="//tracker.example/p.gif">', '<img src="/p.gif">',
        '<img src="../other/p.gif">', '<img srcset="a.jpg 1x, http://x.example/b.jpg 2x">', '<img src="\thttps://x.example/p">',
        '<img src="data:text/html,x">', '<video poster="https://x.example/p.jpg"></video>', '<link rel="prefetch" href="https://x.example/">',
        '<a href="javascript:x()">x</a>', '<a href="java\nscript:x()">x</a>', '<a href="&#106;avascript:x()">x</a>', '<a href="vbscript:x">x</a>',
        '<a href="data:text/html,x">x</a>', '<a href="http://example.org/">x</a>', '<a href="file:///etc/passwd">x</a>', '<a href="tel:1">x</a>',
        '<a href="#x" ping="https://x.example/">x</a>', '<meta http-equiv="refresh" content="0;url=https://x.example/">',
        '<base href="https://x.example/">', '<iframe src="a.html"></iframe>', '<iframe srcdoc="x"></iframe>', '<object data="a.svg"></object>',
        '<embed src="a.svg">', '<form action="https://x.example/"></form>', "<form></form>", '<button formaction="https://x.example/">x</button>',
        '<script src="a.js"></script>', '<script src="https://x.example/a.js"></script>', "<script>x()</script>", "<svg><script>x()</script></svg>",
        '<svg><image href="https://x.example/p.png"/></svg>', '<svg><use xlink:href="https://x.example/a.svg#x"/></svg>',
        "<svg><foreignObject><p>x</p></foreignObject></svg>", '<svg><a xlink:href="javascript:x()"><text>x</text></a></svg>',
        '<svg><animate attributeName="href" to="javascript:x()"/></svg>', '<svg><path fill="url(https://x.example/a.svg#x)"/></svg>',
        "<style>@import 'https://x.example/a.css'</style>", "<style>p{background:url(https://x.example/a.png)}</style>",
        "<style>p{background:\\75rl(//x.example/a.png)}</style>", "<!-- left over -->", "<![CDATA[x]]>", "<?php x ?>",
        '<meta name="generator" content="x">', '<meta name="author" content="x">', '<meta property="og:image" content="x">',
        "<p>/home/ana/clients/site</p>", "<p>C:\\\\Users\\\\x</p>", '<body background="https://x.example/p.png">',
    ],
)  # fmt: skip
def test_whatever_runs_loads_or_leads_away_is_a_finding(body: str) -> None:
    """Handlers, inline styles, foreign or climbing addresses, scripts without a hash, refreshes, frames, forms."""
    assert page_findings(page(body)), body


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("default-src 'none'", "default-src 'self'"), ("default-src 'none'; ", ""), ("base-uri 'none'; ", ""), ("; form-action 'none'", ""),
        ("img-src 'self'", "img-src *"), ("img-src 'self'", "img-src https:"), ("style-src 'self'", "style-src 'self' 'unsafe-inline'"),
        ("style-src 'self'", "style-src 'self'; script-src 'unsafe-eval'"), ("style-src 'self'", "style-src 'self' data:"),
        ("img-src 'self'", "img-src 'self'; script-src https://x.example"), ("Content-Security-Policy", "X-Policy"),
        ('<meta charset="utf-8">', '<meta charset="utf-8"><script>x()</script>'), ('<meta charset="utf-8">', '<meta charset="utf-8"><link rel="stylesheet" href="a.css">'),
    ],
)  # fmt: skip
def test_a_policy_that_is_weaker_or_comes_too_late_is_a_finding(old: str, new: str) -> None:
    """Each directive that matters, each source that opens it, and anything in front of it."""
    assert old in page()
    assert page_findings(page().replace(old, new, 1))


def test_one_character_changed_in_a_script_is_a_finding() -> None:
    """Its hash is computed from the page and looked for in the policy."""
    good = with_script("let a = 1")
    assert page_findings(good) == ()
    assert page_findings(good.replace("let a = 1", "let a = 2"))
    assert page_findings(with_script("let a = 1", named=False))


@pytest.mark.parametrize(
    "style",
    ["@import 'a.css';", "p{background:url(https://x.example/p)}", "p{background:url( '//x.example/p' )}", "p{width:expression(x())}",
     "p{behavior:url(a.htc)}", "p{background:url(data:image/png;base64,AA)}", "p{background:url(../p.png)}", "@\\69mport 'a.css';", "/* /home/x/y */"],
)  # fmt: skip
def test_a_style_sheet_loads_only_what_lies_beside_it(style: str) -> None:
    """No imports, no foreign addresses, no expressions, also not when written with escapes."""
    assert style_findings(style)
    assert style_findings("p{background:url(strands/ribbon.webp)} q::before{content:'\\201c'}") == ()


@pytest.mark.parametrize(
    "inside",
    ["<script>x()</script>", '<path onclick="x()"/>', '<a href="https://x.example/"><text>x</text></a>', "<!-- Matplotlib -->", "<metadata>x</metadata>",
     '<image href="https://x.example/p.png"/>', "<foreignObject/>", '<path style="fill:url(https://x.example/#a)"/>', "<style>@import 'x'</style>"],
)  # fmt: skip
def test_a_drawing_runs_and_loads_nothing_when_opened_by_itself(inside: str) -> None:
    """The page's policy does not hold for an SVG that is opened as a document."""
    clean = '<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg"><path style="fill:#fff" d="M0 0"/>{}</svg>'
    assert drawing_findings(clean.format("")) == ()
    assert drawing_findings(clean.format(inside))
    assert drawing_findings("<!DOCTYPE svg>" + clean.format(""))
