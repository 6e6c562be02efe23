"""Names of people and places that are also ordinary words, in English and Spanish: data, no decisions.

'Rose' may be a client or a colour, 'Reading' a town or a measurement. Both the text filter and the audit
ask a person about these instead of deciding. The list is hand-made: colours and plants, months and seasons,
virtues, trades, landscape, and the words of a salon. A name missing here is replaced wherever it stands.
"""

from __future__ import annotations

from typing import Final

NAMES_THAT_ARE_WORDS: Final = frozenset(
    """
    alba amber angel april archer art ash ashes august aurora autumn azul baker banks barber basil bath
    battle bay beau bell bella bello bend berry bianca bill bird bishop black blanca blanco bliss bloom
    blossom blue bob bond book booker bowl brand bright brook brooks brown brush buck buffalo burn burns
    bush butler calvo candy care carol carter cash castano castle cedar celeste chance chandler charity
    chase chastity cherry chestnut china church cielo clara claro clay cliff cloud color colour comb combs
    constance consuelo cook cooper copper coral cork cotton crane cream cross crown cruz crystal curl cutter
    cyan daisy dale dawn day deal dean dee delgado derby destiny dolores don dove drake draper drew dusk
    dusty dye dyer earl east ebony eden edge ember esperanza estrella faith falcon fallow fanny fern field
    fields fig finch fisher fleet flint flor flora flower ford forest foster fox frank frost fuller gail
    gale garden gardener garnet gene gentle ginger glass gold golden good goodman grace gracia grant graves
    gray green grey grove guise gule hair hale hall hand hardy harmony harp harper hart haven hawk hazel
    head heath heather heaven henna hill holly honey hope hunt hunter iris iron ivory ivy jack jade jasmin
    jasmine jay jersey jet jewel jolly joy june juniper justice karma king kitty knight lady lake lamb lance
    lane lark laurel lavender law leaf lee leo level liberty light lilac lily lima lime link lock locks long
    love luna lux luz magenta major mar marble march margarita marigold marina marine mark marsh marshal
    marshall martin mason mate may mayo melody mercedes mercy merit merry miles mill miller mint mobile
    monday moody moon moreno moss mountain myrtle nature nice nick nieves noble noir noon norma north nova
    oak ocean olive onyx opal orange orchid page paige palm palmer pansy park parker pastor pat patience paz
    peace peach pearl pearls peg penny pepe pepper perla petal peter phoenix pilar pine pink piper pitch
    pleasant plum poll pollen polo poppy porter pot potter precious price prince princess prudence purple
    quill rain rainbow raven ray reading red reed reeves regal rex reyes rich ridge river rivers rizo rob
    robin rocio rock rod rojo roman root roots rosa rosado rosario rose rosy rowan rubia rubio ruby rufus
    rush russet rust rusty ryder rye sable sadler sage sailor sal sale salmon sand sandy saturday savannah
    sawyer scarlet scarlett sea seal season serena serenity shade shades sharp shepherd sienna silver sky
    slate smith snow sol soledad solomon spring star starr steel stella sterling stern stone storm strand
    street strong sue summer sun sunday sunny swan sweet tawny taylor teal temple terry thorn tide tiger tim
    tint toner topaz town trace tracy trinity true turner turquoise tyler umber vale valentine velvet vera
    verdad verde verity vernal victor victoria vida viola violet violeta virgin virtue walker wall ward ware
    warner warren washer water waters wave waves weaver wells west wheat wheeler white wick will willow win
    winter wise wolf wood woods wren wright yellow young
    """.split()  # noqa: SIM905 - hundreds of quoted words read worse
)
"""Lower case, without accents."""
