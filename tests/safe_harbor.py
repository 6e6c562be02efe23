"""The 18 classes of 45 CFR 164.514(b)(2)(i) and what keeps each out of a class edition.

Every class has its rule and something planted: a text that the filter has to clear and the audit has to refuse
(the invented client of `tests.persona`), or a proof of its own where no text is concerned. The wording of the
classes is ours, their letters are the regulation's. `python -m tests.safe_harbor` prints the table.
"""

# ruff: noqa: E501 - a table

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class HarborClass:
    letter: str
    what: str
    rule: str
    """Where in the code it is decided."""
    planted: tuple[str, ...] = ()
    """Texts with something of the class in each."""
    proof: str = ""
    """Name of a test in tests/edition/test_safe_harbor.py, where nothing is planted in a text."""


CLASSES = (
    HarborClass("A", "names", "text filter: client, nickname, relative, stylist", ("Ana Ruiz came back", "RUIZ, Ana")),
    HarborClass(
        "B",
        "places smaller than a state",
        "text filter: place",
        ("She lives at Calle Mayor 14", "the postcode is 28099 Valdetorno"),
    ),
    HarborClass(
        "C",
        "dates but the year, ages over 89",
        "days become week offsets; birthday and record days in text filter; ages from 90 on become 90+",
        ("born 14 March 1991", "the visit on 3 September 2024", "her aunt, 93 years old, came along"),
    ),
    HarborClass("D", "telephone numbers", "text filter: phone", ("call +44 7700 900123",)),
    HarborClass("E", "fax numbers", "text filter: phone, and any number with a country code", ("fax +34 912 345 678",)),
    HarborClass(
        "F", "e-mail addresses", "text filter: e-mail", ("write to ana.ruiz91@correo.example", "or x.y@elsewhere.org")
    ),
    HarborClass(
        "G",
        "social security numbers",
        "text filter: declared numbers, and identity numbers known by their check letter",
        ("her number is CF-20831", "12345678Z"),
    ),
    HarborClass("H", "medical record numbers", "text filter: declared numbers", ("file CF 20831 at the clinic",)),
    HarborClass("I", "health plan numbers", "text filter: declared numbers", ("insured as CF20831",)),
    HarborClass(
        "J",
        "account numbers",
        "text filter: declared numbers, cards and accounts known by their check digits",
        ("paid from ES9121000418450200051332", "card 4111 1111 1111 1111"),
    ),
    HarborClass("K", "certificate and licence numbers", "text filter: declared numbers", ("licence CF-20831",)),
    HarborClass("L", "vehicles and their plates", "text filter: plate", ("parked as 4821 KZT",)),
    HarborClass(
        "M",
        "device identifiers and serial numbers",
        "text filter: declared numbers; photos are made of fresh pixels without metadata",
        ("camera CF-20831",),
        "test_published_pixels_carry_no_serial_number",
    ),
    HarborClass("N", "web addresses", "text filter: url and handle", ("see https://pictures.example/anita.tonos",)),
    HarborClass("O", "internet addresses", "text filter: by their shape", ("sent from 81.42.17.203",)),
    HarborClass("P", "biometric identifiers", "only pictures are taken in", (), "test_only_pictures_are_taken_in"),
    HarborClass(
        "Q",
        "full-face photographs",
        "a photo nobody looked at for faces is withheld; covers are filled solid",
        (),
        "test_a_photo_nobody_looked_at_stays_out",
    ),
    HarborClass(
        "R",
        "any other unique number, trait or code",
        "text filter: rare traits, lots, file names; photos of a rare trait are withheld",
        ("she has a swallow tattoo", "lot L24-0917", "the file IMG_7731_ana.jpg"),
        "test_a_photo_of_a_rare_trait_stays_out_until_somebody_decides",
    ),
)


def table() -> str:
    lines = [f"{'':2} {'class':42} {'planted':>7}  rule"]
    lines += [f"{one.letter:2} {one.what:42} {len(one.planted) or '':>7}  {one.rule}" for one in CLASSES]
    return "\n".join(lines)


if __name__ == "__main__":
    print(table())
