"""An invented client with everything that must not leave, for the tests of filter and audit.

The telephone number is from the range that Ofcom keeps free for drama (07700 900000 to 900999); mail and web
addresses end in `.example` (RFC 2606).
"""

from __future__ import annotations

from journey.identifiers import Identifier, IdentifierKind

Kind = IdentifierKind

IDENTIFIERS = (
    Identifier(Kind.CLIENT, "Ana Lucía Ruiz-Fernández"),
    Identifier(Kind.NICKNAME, "Anita"),
    Identifier(Kind.RELATIVE, "Benedikt Ruiz"),
    Identifier(Kind.WORKPLACE, "Quimera Dental Clinic"),
    Identifier(Kind.OTHER_CLIENT, "Solvei Brandt"),
    Identifier(Kind.STYLIST, "Philippa Okonjo"),
    Identifier(Kind.SALON, "Marisma Hair Studio"),
    Identifier(Kind.PLACE, "Calle Mayor 14, 3º B, 28099 Valdetorno"),
    Identifier(Kind.PHONE, "+44 7700 900123"),
    Identifier(Kind.EMAIL, "ana.ruiz91@correo.example"),
    Identifier(Kind.HANDLE, "@ana_ruiz91"),
    Identifier(Kind.URL, "https://pictures.example/anita.tonos"),
    Identifier(Kind.BIRTHDAY, "1991-03-14"),
    Identifier(Kind.DATE, "2024-09-03"),
    Identifier(Kind.DATE, "2024-10-15"),
    Identifier(Kind.PLATE, "4821 KZT"),
    Identifier(Kind.NUMBER, "CF-20831"),
    Identifier(Kind.NUMBER_OF_LOT, "L24-0917"),
    Identifier(Kind.TRAIT, "swallow tattoo"),
    Identifier(Kind.FILE_NAME, "IMG_7731_ana.jpg"),
)

NEUTRAL_WORDS = {
    Kind.CLIENT: "the client",
    Kind.NICKNAME: "the client",
    Kind.RELATIVE: "a relative",
    Kind.WORKPLACE: "her work",
    Kind.OTHER_CLIENT: "another client",
    Kind.STYLIST: "the stylist",
    Kind.SALON: "the salon",
    Kind.PLACE: "a place",
    Kind.PHONE: "a phone number",
    Kind.EMAIL: "an e-mail address",
    Kind.HANDLE: "a profile",
    Kind.URL: "a link",
    Kind.BIRTHDAY: "her birthday",
    Kind.DATE: "that day",
    Kind.PLATE: "a number plate",
    Kind.NUMBER: "a number",
    Kind.NUMBER_OF_LOT: "a lot",
    Kind.TRAIT: "a detail",
    Kind.FILE_NAME: "a photo",
}
