"""How a finished page, style sheet or drawing is built: nothing may run, load or lead elsewhere by itself.

It decides by facts of the markup: the content security policy first, no handlers, no inline styles, no
foreign addresses, no scripts but those whose hash the policy names. What the words say is left to `canaries`.

Content Security Policy Level 3 (W3C); a policy in a page works from where it stands on, so it comes first.
"""

from __future__ import annotations

import base64
import hashlib
import re
from collections.abc import Iterator
from html.parser import HTMLParser
from typing import Final

_LOADING: Final = frozenset(
    """
    action archive background cite classid codebase data dynsrc formaction icon imagesrcset longdesc lowsrc
    manifest ping poster profile src srcset
    """.split()  # noqa: SIM905
)
_LINKING: Final = frozenset({"href", "xlink:href"})
_FORBIDDEN: Final = frozenset(
    """
    animate animatemotion animatetransform applet audio base embed foreignobject form frame frameset handler
    iframe metadata object portal set track video
    """.split()  # noqa: SIM905
)
_SCHEME: Final = re.compile(r"[a-z][a-z0-9+.-]*:", re.IGNORECASE)
_STYLE_ADDRESS: Final = re.compile(r"url\(\s*['\"]?\s*([^'\")]*)", re.IGNORECASE)
_STYLE_FORBIDDEN: Final = re.compile(
    r"@import|expression\s*\(|behavior\s*:|-moz-binding|javascript:", re.IGNORECASE
)
_BUILD_PATH: Final = re.compile(
    r"(?<![\w.])(?:/(?:home|root|tmp|Users|var|work|mnt|media)/[\w.-]|[A-Za-z]:\\\\?\w)"
)
_POLICY_NEEDS: Final = {
    "default-src": ("'none'",),
    "base-uri": ("'none'",),
    "form-action": ("'none'",),
}
_POLICY_SOURCES: Final = re.compile(r"'none'|'self'|'sha(?:256|384|512)-[A-Za-z0-9+/=]+'")


def page_findings(text: str) -> tuple[str, ...]:
    """What is wrong with the construction of a page, in words."""
    page = _Page()
    page.feed(text)
    page.close()
    return tuple(dict.fromkeys([*page.findings, *page.closing_findings(), *build_path_findings(text)]))


def drawing_findings(text: str) -> tuple[str, ...]:
    """What is wrong with an SVG file: opened by itself it runs, whatever the page's policy says."""
    drawing = _Page(is_drawing=True)
    drawing.feed(text)
    drawing.close()
    return tuple(dict.fromkeys([*drawing.findings, *build_path_findings(text)]))


def style_findings(text: str) -> tuple[str, ...]:
    """What is wrong with a style sheet: it loads or runs something."""
    plain = re.sub(r"\\([0-9A-Fa-f]{1,6})\s?", lambda found: chr(int(found[1], 16) % 0x110000), text)
    found = [
        f"a style that loads or runs something ({hit.lower()})" for hit in _STYLE_FORBIDDEN.findall(plain)
    ]
    found += [
        "a style that loads from elsewhere"
        for address in _STYLE_ADDRESS.findall(plain)
        if _is_foreign(address)
    ]
    return tuple(dict.fromkeys([*found, *build_path_findings(text)]))


def build_path_findings(text: str) -> tuple[str, ...]:
    """A path of the computer that made the site tells its owner's name."""
    return ("a path of the computer it was made on",) if _BUILD_PATH.search(text) else ()


class _Page(HTMLParser):
    def __init__(self, *, is_drawing: bool = False) -> None:
        super().__init__(convert_charrefs=True)
        self.findings: list[str] = []
        self._is_drawing = is_drawing
        self._head: list[str] = []
        self._policy: dict[str, list[str]] | None = None
        self._policy_is_first = False
        self._script: list[str] | None = None
        self._script_hashes: list[str] = []
        self._style: list[str] | None = None

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        values = {name: value or "" for name, value in attrs}
        if tag not in ("html", "head"):
            self._head.append(tag)
        if tag in _FORBIDDEN:
            self._report(f"an element <{tag}>")
        for name, value in values.items():
            self._attribute(tag, name, value)
        match tag:
            case "meta":
                self._meta(values)
            case "script":
                self._begin_script(values)
            case "style":
                self._style = []

    def handle_endtag(self, tag: str) -> None:
        if tag == "script" and self._script is not None:
            digest = hashlib.sha256("".join(self._script).encode()).digest()
            self._script_hashes.append(f"'sha256-{base64.b64encode(digest).decode()}'")
            self._script = None
        if tag == "style" and self._style is not None:
            self.findings.extend(style_findings("".join(self._style)))
            self._style = None

    def handle_data(self, data: str) -> None:
        if self._script is not None:
            self._script.append(data)
        if self._style is not None:
            self._style.append(data)

    def handle_comment(self, data: str) -> None:
        self._report("a comment")

    def handle_decl(self, decl: str) -> None:
        if self._is_drawing or decl.strip().lower() != "doctype html":
            self._report("a declaration")

    def handle_pi(self, data: str) -> None:
        if not (self._is_drawing and data.startswith("xml ")):
            self._report("a processing instruction")

    def unknown_decl(self, data: str) -> None:
        self._report("a declaration")

    def closing_findings(self) -> Iterator[str]:
        """What can only be said at the end: the policy, and whether it names each script."""
        if self._policy is None or not self._policy_is_first:
            yield "no content security policy right after the character set"
        policy = self._policy or {}
        for directive, sources in _POLICY_NEEDS.items():
            if tuple(policy.get(directive, ())) != sources:
                yield f"a policy that does not say {directive} {' '.join(sources)}"
        for directive, given in policy.items():
            allowed = [
                s for s in given if _POLICY_SOURCES.fullmatch(s) or (s, directive) == ("data:", "img-src")
            ]
            if len(allowed) != len(given):
                yield f"a policy whose {directive} lets more in than the site itself"
        for script_hash in self._script_hashes:
            if script_hash not in policy.get("script-src", ()):
                yield "a script whose hash the policy does not name"

    def _report(self, words: str) -> None:
        line, _ = self.getpos()
        self.findings.append(f"{words} (line {line})")

    def _attribute(self, tag: str, name: str, value: str) -> None:
        bare = re.sub(r"[\x00-\x20\u200b\ufeff]", "", value)
        if name.startswith("on"):
            self._report(f"a handler {name}")
        if name == "style" and not self._is_drawing:
            self._report("an inline style, which the policy blocks")
        if name == "style" and style_findings(value):
            self._report("an inline style that loads or runs something")
        if name == "srcdoc":
            self._report("a page inside an attribute")
        if name in _LOADING and any(map(_is_foreign, self._addresses(name, value))):
            self._report(f"something loaded from elsewhere by {name}")
        if name in _LINKING:
            self._link(tag, bare)
        elif "url(" in value.lower() and name != "style" and style_findings(value):
            self._report(f"something loaded from elsewhere by {name}")

    def _addresses(self, name: str, value: str) -> list[str]:
        if name in ("srcset", "imagesrcset"):
            return [candidate.split()[0] for candidate in value.split(",") if candidate.split()]
        return [value]

    def _link(self, tag: str, address: str) -> None:
        """Only a link that a person clicks may lead out, and only to https."""
        if tag == "a" and address.lower().startswith("https://") and not self._is_drawing:
            return
        if _is_foreign(address):
            self._report(f"an address elsewhere on <{tag}>")

    def _meta(self, values: dict[str, str]) -> None:
        what = values.get("http-equiv", "").lower()
        if what == "refresh":
            self._report("a page that leads elsewhere by itself")
        if what == "content-security-policy":
            self._policy_is_first = self._head in (["meta", "meta"], ["meta"])
            self._policy = {
                words[0].lower(): words[1:]
                for words in (part.split() for part in values.get("content", "").split(";"))
                if words
            }
        if values.get("name", "").lower() in (
            "generator",
            "author",
            "created",
            "creator",
            "date",
            "publisher",
        ):
            self._report(f"a mark of who or what made it ({values['name'].lower()})")
        if values.get("property", "").lower().startswith(("og:", "twitter:")):
            self._report("a card for other sites to show")

    def _begin_script(self, values: dict[str, str]) -> None:
        if self._is_drawing:
            self._report("a script in a drawing")
        elif "src" in values:
            self._report("a script from a file, which does not run on a page opened from disk")
        self._script = []


def _is_foreign(address: str) -> bool:
    """True unless the address stays in the folder: relative, or a place on the page."""
    bare = re.sub(r"[\x00-\x20]", "", address)
    if bare.startswith("#") or not bare:
        return False
    return (
        bare.startswith(("/", "\\"))
        or ".." in bare.split("/")
        or _SCHEME.match(bare) is not None
        or "\\" in bare
    )
