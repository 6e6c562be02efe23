"""Whether a person has vouched for everything that leaves with an edition, as it leaves today.

It decides which editions need it, and what voids a sign-off: nothing but another hash. An item is signed for
one edition; that it was signed for another does not count. An earlier site stays where it is while a new one
waits for eyes: what is in it was signed then.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from typing import Final

from journey.edition.model import Edition, Leaving, LeavingKind
from journey.record.model import Audience
from journey.record.sign_offs import SignOff

NEEDS_SIGN_OFF: Final = frozenset({Audience.CLASS})
"""Her own page is shown to her, the archive stays in the house; strangers look at the class edition."""
_NAMED_AT_MOST: Final = 6


def signed_by_hash(audience: Audience, sign_offs: Iterable[SignOff]) -> dict[str, SignOff]:
    """The latest sign-off of each hash, for one edition."""
    return {one.sha256: one for one in sign_offs if one.edition is audience}


def unsigned(edition: Edition, sign_offs: Sequence[SignOff]) -> tuple[Leaving, ...]:
    """What nobody has vouched for as it is now, in the order of the edition."""
    signed = signed_by_hash(edition.audience, sign_offs)
    return tuple(one for one in edition.leaving if one.sha256 not in signed)


def why_unsigned(edition: Edition, sign_offs: Sequence[SignOff], folder: str) -> str | None:
    """One line: what is not signed, what changed since, and what to do; None when all is signed.

    Asked of any edition; whether it needs to be is in `NEEDS_SIGN_OFF`.
    """
    missing = unsigned(edition, sign_offs)
    if not missing:
        return None
    before = {(one.kind, one.name) for one in sign_offs if one.edition is edition.audience}
    counts = [_counted(kind, [one for one in missing if one.kind is kind], before) for kind in LeavingKind]
    return (
        f"not signed: {', '.join(count for count in counts if count)}; look at the sheet of 'journey disclose "
        f"{folder} --for {edition.audience}', then 'journey vouch {folder} --for {edition.audience}'; a site "
        "published earlier stays, as it was signed then"
    )


def _counted(kind: LeavingKind, missing: Sequence[Leaving], before: Collection[tuple[str, str]]) -> str:
    """'2 photos (crown-after changed, nape-after new)'."""
    if not missing:
        return ""
    names = [f"{one.name} {'changed' if (one.kind, one.name) in before else 'new'}" for one in missing]
    more = f", {len(names) - _NAMED_AT_MOST} more" if len(names) > _NAMED_AT_MOST else ""
    noun = {LeavingKind.PHOTO: "photo", LeavingKind.TEXT: "text", LeavingKind.VALUES: "field"}[kind]
    plural = "" if len(names) == 1 else "s"
    return f"{len(names)} {noun}{plural} ({', '.join(names[:_NAMED_AT_MOST])}{more})"
