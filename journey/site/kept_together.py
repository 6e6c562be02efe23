"""Keeps a number on the line of what it counts: '49 %', '2 cm', '13 June' do not part at a line end.

Decides it on the finished page, in one place for all that is said: the tool's sentences, her own words, tables,
charts. Only spaces between tags are changed, so no attribute, file name or data file is, and no key to be
copied (`<code>`); which words stay with a number stands in the theme.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final

NO_BREAK_SPACE: Final = "\u00a0"
_MARKUP: Final = re.compile(r"<(script|code)\b.*?</\1>|<[^>]*>", re.DOTALL)


def numbers_kept_together(html: str, words: Iterable[str]) -> str:
    """The page with a no-break space between each number and one of `words` behind it, and behind each ±.

    >>> numbers_kept_together('<p title="2 cm">2 cm of 20 cmx</p>', ["cm"]).replace(NO_BREAK_SPACE, "_")
    '<p title="2 cm">2_cm of 20 cmx</p>'
    """
    one_of = "|".join(sorted(map(re.escape, words), key=len, reverse=True))
    parting = re.compile(rf"(?<=\d)[ ](?=(?:{one_of})(?!\w))|(?<=±)[ ](?=\d)")
    kept, at = [], 0
    for markup in _MARKUP.finditer(html):
        kept += [parting.sub(NO_BREAK_SPACE, html[at : markup.start()]), markup[0]]
        at = markup.end()
    return "".join([*kept, parting.sub(NO_BREAK_SPACE, html[at:])])
