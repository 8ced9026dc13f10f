"""The words that people write in the cells of a list of gear: kinds, how a mass is known, the row of the sum.

Several languages, as in `calc.document.headings`: common words and common practice, from memory, no source.
"""

import re
from functools import lru_cache

from calc.document.headings import folded

_KINDS = {
    "receiver": """receiver|rx|rcvr|rec|decoder|empfanger|recepteur|ricevente|ricevitore|receptor|mottagare|prijimac
        |odbiornik|ontvanger|modtager|mottaker""",
    "servo": "servo|servos|microservo|servomotor|serwo|servomechanizm",
    "coil actuator": """coil actuator|coil|coils|actuator|magnetic actuator|magnet actuator|magnetic coil|spule
        |magnetspule|bobine|bobina|spole|civka|cewka|spoel""",
    "cell": """cell|cells|battery|batt|bat|lipo|li po|li ion|liion|lion|lihv|accu|akku|akkus|accumulator|pack
        |battery pack|lithium
        |batterie|batteria|bateria|batteri|baterie|akumulator|ogniwo|zelle|accumulateur|accupack""",
    "linkage": """linkage|linkages|pushrod|push rod|pushrods|rod|control rod|pull pull|lines|control lines|thread|horn
        |clevis|gestange|schubstange|anlenkung|ruderhorn|ruderanlenkung|tringlerie|renvoi|guignol|rinvio|asta
        |squadretta|varilla|transmision|stotstang|stang|roderhorn|tahlo|tahla|paka|popychacz|ciegno|dzwignia|stuurstang""",
    "altimeter": """altimeter|altitude logger|logger|barometer|vario|hohenmesser|altimetre|altimetro|hojdmatare
        |vyskomer|wysokosciomierz|hoogtemeter""",
    "tracker": "tracker|beacon|locator|gps|radio tracker|peilsender|balise|localizzatore|baliza|spargivare|lokator",
    "timer": "timer|dt timer|zeitschalter|zeitgeber|minuterie|temporizzatore|temporizador|casovac|timer dt|zegar",
    "switch": "switch|schalter|interrupteur|interruttore|interruptor|strombrytare|brytare|vypinac|wylacznik|schakelaar",
    "wiring": """wiring|wire|wires|lead|leads|cable|cables|harness|plug|connector|connectors|extension|kabel|verkabelung
        |verdrahtung|litze|stecker|fil|fils|cablage|connecteur|cavo|cavi|cablaggio|connettore|cableado|conector|ledning
        |ledningar|kontakt|kabely|vodic|vodice|konektor|przewod|przewody|zlacze|bedrading|stekker""",
    "supply": """supply|converter|bec|ubec|regulator|step up|step down|booster|boost|wandler|spannungswandler
        |spannungsregler|regler|convertisseur|regulateur|convertitore|regolatore|convertidor|regulador|omvandlare
        |menic|stabilizator|przetwornica|omvormer""",
    "mount": """mount|mounts|mounting|tray|holder|bracket|plate|velcro|tape|halter|halterung|servohalter|befestigung
        |support|fixation|supporto|soporte|faste|drzak|uchwyt|houder""",
    "other": """other|others|misc|miscellaneous|weight|ballast|nose weight|trim weight|sonstiges|sonstige|andere
        |gewicht|blei|trimmblei|ballastgewicht|autre|autres|divers|plomb|lest|altro|varie|piombo|zavorra|otro|otros
        |lastre|plomo|annat|ovrigt|bly|jine|ostatni|zatez|olovo|inne|olow|balast|overig""",
}
_KINDS["balsa sheet"] = "balsa sheet|balsa sheets|sheet of balsa|balsabrett|balsabrettchen|planche de balsa"
_KNOWN = {
    "weighed": """weighed|measured|scale|on the scale|actual|real|w|gewogen|gemessen|ist|pese|mesure|reel|pesato
        |misurato|pesado|medido|vagd|uppmatt|zvazeno|zmereno|zwazone|zmierzone|gemeten""",
    "maker": """maker|manufacturer|catalogue|catalog|data sheet|datasheet|spec|specs|specification|shop|vendor
        |website|hersteller|katalog|datenblatt|angabe|fabricant|fiche technique|constructeur|produttore|catalogo
        |fabricante|tillverkare|datablad|vyrobce|producent|fabrikant""",
    "guess": """guess|guessed|estimate|estimated|est|approx|about|geschatzt|schatzung|ca|estime|estimation|environ
        |stima|stimato|estimado|uppskattad|uppskattat|gissning|odhad|odhadem|szacunek|szacowane|schatting|geschat""",
}
_YES = frozenset("yes y true ja j wahr oui vrai si vero verdadero sant ano tak prawda waar".split())  # noqa: SIM905
_NO = frozenset("no n false nein falsch non faux falso nej falskt ne nie falsz nee onwaar nei".split())  # noqa: SIM905
_TOTALS = """total|totals|grand total|subtotal|sub total|sum|all|together|in all|all up|overall|summe|gesamt|insgesamt
    |zusammen|gesamtsumme|zwischensumme|somme|en tout|totale|somma|suma|total general|summa|totalt|celkem|soucet|razem
    |lacznie|ogolem|totaal|som|i alt"""
_OF_WHAT = (
    """weight|mass|gear|of gear|radio gear|all|g|gewicht|masse|poids|peso|massa|masa|vikt|hmotnost|waga|general"""
)
_LOTS = re.compile(r"\s*\|\s*")


@lru_cache(maxsize=2)
def _by_word(which: str) -> dict[str, str]:
    table = _KINDS if which == "kind" else _KNOWN
    return {folded(word): value for value, listed in table.items() for word in _LOTS.split(listed)}


def kind_of(text: str) -> str:
    """Return the document's word for a kind as it was written, "" for none.

    Examples
    --------
    >>> kind_of("LiPo"), kind_of("Push-rod"), kind_of("weight"), kind_of("Empfänger"), kind_of("winch")
    ('cell', 'linkage', 'other', 'receiver', '')
    """
    return _by_word("kind").get(folded(text), "")


def kind_in(name: str) -> str:
    """Return the kind that the name of a part speaks of: the last of its words that is one, in English the noun.

    Examples
    --------
    >>> kind_in("1.7 g linear servo"), kind_in("servo mount"), kind_in("30 mAh LiPo"), kind_in("x")
    ('servo', 'mount', 'cell', '')
    """
    words = folded(name).split()
    for end in range(len(words), 0, -1):
        for begin in (end - 2, end - 1):
            if begin >= 0 and (found := _by_word("kind").get(" ".join(words[begin:end]))):
                return found
    return ""


def known_by(text: str) -> str:
    """Return `weighed`, `maker` or `guess` for a word that says how a mass is known, "" for none.

    Examples
    --------
    >>> known_by("Katalog"), known_by("est."), known_by("measured"), known_by("Fred")
    ('maker', 'guess', 'weighed', '')
    """
    return _by_word("known_by").get(folded(text), "")


def flag_of(text: str) -> bool | None:
    """Return what a word for yes or no means, None for any other.

    Examples
    --------
    >>> flag_of("Yes"), flag_of("nein"), flag_of("perhaps")
    (True, False, None)
    """
    word = folded(text)
    return word in _YES if word in _YES | _NO else None


def settled(field: str, text: str) -> str:
    """Return a word of a cell as the document has it for a field, any other text as it is.

    Examples
    --------
    >>> settled("kind", "LiPo"), settled("draw_known_by", "gemessen"), settled("kind", "anvil")
    ('cell', 'measured', 'anvil')
    """
    found = kind_of(text) if field == "kind" else known_by(text) if field in ("known_by", "draw_known_by") else ""
    return (found.replace("weighed", "measured") if field == "draw_known_by" else found) or text


@lru_cache(maxsize=1)
def _totals() -> frozenset[str]:
    firsts, seconds = (tuple(map(folded, _LOTS.split(listed))) for listed in (_TOTALS, _OF_WHAT))
    both = {f"{first} {second}" for first in firsts for second in seconds}
    joined = {folded(f"{first}{second}") for first in ("gesamt", "total", "totaal") for second in seconds}
    return frozenset({*firsts, *both, *joined} - {"all", "all all"})


def is_total(text: str) -> bool:
    """Return whether a row called so is the sum of the others, and no part.

    Examples
    --------
    >>> is_total("TOTAL:"), is_total("Gesamtgewicht"), is_total("Total weight"), is_total("total-energy probe")
    (True, True, True, False)
    """
    return folded(text) in _totals()
