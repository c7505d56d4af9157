"""Advance widths of Helvetica and Helvetica-Bold; data only.

Source: Adobe Font Metrics for the core 14 fonts, Helvetica.afm and Helvetica-Bold.afm, 1997, key WX in
thousandths of the font size, for the printable characters of the Windows code page 1252 (WinAnsi).
"""

from __future__ import annotations

from typing import Final

CAP_HEIGHT: Final = 0.718
"""Height of a capital in font sizes, AFM key CapHeight of both fonts."""

DEPTH: Final = 0.207
"""Depth of a descender in font sizes, AFM key Descender of both fonts."""

_REGULAR: Final = {
    191: "'",
    222: "ijl‚‘’",
    260: "|¦",
    278: " !,./:;I[\\]ft\xa0·ÌÍÎÏìíîï",
    333: "()-`r„ˆ‹“”˜›¡¨\xad¯²³´¸¹",
    334: "{}",
    350: "•",
    355: '"',
    365: "º",
    370: "ª",
    389: "*",
    400: "°",
    469: "^",
    500: "Jcksvxyzšžçýÿ",
    537: "¶",
    556: "#$0123456789?L_abdeghnopqu€ƒ†‡–¢£¤¥§«µ»àáâãäåèéêëðñòóôõöùúûüþ",
    584: "+<=>~¬±×÷",
    611: "FTZŽ¿ßø",
    667: "&ABEKPSVXYŠŸÀÁÂÃÄÅÈÉÊËÝÞ",
    722: "CDHNRUwÇÐÑÙÚÛÜ",
    737: "©®",
    778: "GOQÒÓÔÕÖØ",
    833: "Mm",
    834: "¼½¾",
    889: "%æ",
    944: "Wœ",
    1000: "…‰Œ—™Æ",
    1015: "@",
}

_BOLD: Final = {
    238: "'",
    278: " ,./I\\ijl‚‘’\xa0·ÌÍÎÏìíîï",
    280: "|¦",
    333: "!()-:;[]`ftˆ‹˜›¡¨\xad¯²³´¸¹",
    350: "•",
    365: "º",
    370: "ª",
    389: "*r{}",
    400: "°",
    474: '"',
    500: "z„“”ž",
    556: "#$0123456789J_aceksvxy€ƒ†‡–š¢£¤¥§«¶»àáâãäåçèéêëýÿ",
    584: "+<=>^~¬±×÷",
    611: "?FLTZbdghnopquŽµ¿ßðñòóôõöøùúûüþ",
    667: "EPSVXYŠŸÈÉÊËÝÞ",
    722: "&ABCDHKNRUÀÁÂÃÄÅÇÐÑÙÚÛÜ",
    737: "©®",
    778: "GOQwÒÓÔÕÖØ",
    833: "M",
    834: "¼½¾",
    889: "%mæ",
    944: "Wœ",
    975: "@",
    1000: "…‰Œ—™Æ",
}


def _by_character(groups: dict[int, str]) -> dict[str, int]:
    return {character: width for width, characters in groups.items() for character in characters}


REGULAR: Final = _by_character(_REGULAR)
BOLD: Final = _by_character(_BOLD)
