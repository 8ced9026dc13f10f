"""The words that people write above the columns of a list of gear, in several languages.

English, German, French, Italian, Spanish, Swedish, Czech, Polish, Dutch, Danish and Norwegian: common words, from
memory, no source. Compared without capitals, accents and signs. Some words mean two things (`nombre` is a count in
French and a name in Spanish): the fields they may name stand in their order, and what is in the column decides.
"""

import re
import unicodedata
from functools import lru_cache

NUMBER, UNIT, TOTAL, NOTES = "#number", "#unit", "#total", "#notes"  # columns that are known, and are no field

_WORDS = {
    NUMBER: "no|nr|number|num|n|pos|index|id|row|line|lfd|lfd nr|numero|poradi|lp|item no|part no|part number",
    UNIT: """unit|units|einheit|einheiten|unite|unites|unita|unidad|unidades|enhet|jednotka|jednostka|jedn
        |eenheid|enhed""",
    "kind": """kind|type|category|class|group|sort|art|typ|kategorie|gattung|gruppe|bauteilart|genre|categorie
        |sorte|tipo
        |categoria|clase|slag|kategori|druh|rodzaj|kategoria|soort""",
    "name": """name|part|parts|item|component|gear|equipment|description|designation|what|article|model
        |bezeichnung|bauteil|teil|artikel|benennung|komponente|gegenstand|beschreibung|nom|piece|composant|element
        |libelle|denomination|nome|pezzo|componente|parte|descrizione|denominazione|nombre|pieza|descripcion
        |denominacion|namn|benamning|del|komponent|detalj|beskrivning|nazev|dil|soucast|soucastka|popis|polozka
        |nazwa|czesc|opis|naam|onderdeel|omschrijving|navn|betegnelse""",
    "mass": """mass|weight|wt|wgt|mass each|weight each|mass of one|weight of one|unit mass|unit weight|planned
        |planned mass|planned weight|catalogue weight|catalog weight|masse|gewicht|stuckgewicht|einzelgewicht
        |einzelmasse|gewicht je stuck|planmasse|sollgewicht|masse unitaire|poids|pds|poids unitaire|massa|peso
        |peso unitario|massa unitaria|masa|vikt|styckvikt|hmotnost|vaha|hmotnost kusu|waga|masa sztuki|ciezar|vaegt
        |vekt|stukgewicht""",
    "weighed": """weighed|weighed one|on the scale|scale|actual|actual mass|actual weight|measured mass
        |measured weight
        |weighed mass|weighed weight|gewogen|istgewicht|ist gewicht|istmasse|gewogenes gewicht|pese|poids pese
        |masse pesee|poids reel|masse reelle|poids mesure|pesato|peso reale|peso misurato|pesado|peso real|vagd
        |vagd vikt|verklig vikt|uppmatt vikt|zvazeno|skutecna hmotnost|zwazone|zwazona|waga rzeczywista
        |masa rzeczywista""",
    TOTAL: """total|totals|sum|total mass|total weight|mass total|weight total|mass together|gesamt|gesamtgewicht
        |gesamtmasse|summe|poids total|masse totale|totale|peso totale|massa totale|peso total|masa total|total vikt
        |totalvikt|summa|celkem|celkova hmotnost|razem|suma|masa calkowita|waga calkowita|totaal|totaalgewicht""",
    "count": """count|no|nr|n|num|number|qty|quantity|pcs|pieces|amount|how many|number of|number off|anzahl
        |stuck|stk|menge|quantite
        |qte|nombre|nb|quantita|qta|numero|cantidad|cant|unidades|uds|antal|st|pocet|ks|kusu|mnozstvi|ilosc|szt
        |liczba|aantal|stuks""",
    "known_by": """known by|known|how known|mass known by|source|basis|bekannt durch|quelle|herkunft|connu par|origine
        |provenance|fonte|fuente|origen|kalla|kant genom|zdroj|zrodlo|bron""",
    "station": """station|position|arm|moment arm|location|distance from nose|from nose|distance from the nose|lage
        |hebelarm|abstand|abstand von der nase|bras de levier|posizione|braccio|posicion|brazo|lage fran nosen|havarm
        |poloha|rameno|polozenie|ramie|positie""",
    "draw": """draw|draws|current|consumption|quiet draw|draw quiet|draws when quiet|quiet current|idle|idle current
        |current draw|current idle|strom|stromaufnahme|stromverbrauch|verbrauch|ruhestrom|courant|consommation
        |intensite
        |courant au repos|corrente|assorbimento|consumo|corrente a riposo|corriente|corriente en reposo|quiet
        |current quiet|strom ruhe|strom vila
        |stromforbrukning|forbrukning|vilostrom|proud|odber|spotreba|klidovy proud|odber proudu|prad|pobor|pobor pradu
        |stroom|verbruik|stroomverbruik""",
    "draw_known_by": "draw known by|draw source|current known by",
    "busy_draw": """busy draw|draw busy|strom last|draw at work|draws at work|current at work|current busy
        |at work|busy current|working current|peak|peak draw
        |peak current|max current|maximum current|current max|current peak|stall current|arbeitsstrom|spitzenstrom
        |laststrom|maximalstrom|max strom|courant max|courant maximal|courant de pointe|courant en charge
        |corrente massima|corrente di picco|corrente max|corriente maxima|corriente de pico|arbetsstrom|toppstrom
        |max strom|pracovni proud|spickovy proud|max proud|prad szczytowy|prad pracy|prad maksymalny|piekstroom""",
    "busy": """busy|share of time at work|duty|duty cycle|share at work|einschaltdauer|arbeitsanteil|ed
        |rapport cyclique|facteur de marche|ciclo di lavoro|ciclo de trabajo|intermittens|strida|inschakelduur""",
    "height": "thickness|thick|dicke|starke|epaisseur|spessore|espesor|tjocklek|tloustka|grubosc|dikte|tykkelse",
    "min_volts": """works down to|min volts|minimum volts|min voltage|minimum voltage|lowest voltage|mindestspannung
        |minimalspannung|min spannung|tension min|tension minimale|tensione minima|tension minima|lagsta spanning
        |min spanning|minimalni napeti|napiecie minimalne|min napiecie|minimumspanning""",
    "torque": """torque|rated torque|stall torque|drehmoment|stellmoment|moment|couple|coppia|par|par motor|vridmoment
        |tocivy moment|krouticí moment|moment obrotowy|koppel""",
    "thrust": """thrust|rated thrust|force|rated force|pull|kraft|stellkraft|zugkraft|schubkraft|poussee|effort|forza
        |spinta|fuerza|empuje|sila|tah|ciag|kracht""",
    "capacity": "capacity|kapazitat|capacite|capacita|capacidad|kapacitet|kapacita|pojemnosc|capaciteit",
    "resistance": """resistance|resistance at 25 c|internal resistance|ir|ri|innenwiderstand|widerstand
        |resistance interne|resistenza|resistenza interna|resistencia|resistencia interna|resistans
        |inre resistans|odpor
        |vnitrni odpor|rezystancja|opor|opor wewnetrzny|weerstand|inwendige weerstand""",
    "cutoff": """cutoff|cut off|cut off voltage|cutoff voltage|abschaltspannung|entladeschlussspannung
        |tension de coupure|tensione di taglio|voltaje de corte|brytspanning|vypinaci napeti|napiecie odciecia""",
    "series": """series|cells|cells in series|zellen|zellen in reihe|elements en serie|celle|celle in serie|celdas
        |celdas en serie|celler|celler i serie|clanky|clanku|ogniwa|cellen""",
    "volts": """volts|gives the gear|output voltage|ausgangsspannung|tension de sortie|tensione di uscita
        |tension de salida|utspanning|vystupni napeti|napiecie wyjsciowe|uitgangsspanning""",
    "efficiency": "efficiency|wirkungsgrad|rendement|rendimento|rendimiento|verkningsgrad|ucinnost|sprawnosc",
    "min_input": """min input|minimum input|minimum input voltage|converter works down to|mindesteingangsspannung
        |tension d entree min|tensione minima di ingresso|minsta inspanning""",
    NOTES: """notes|note|remarks|remark|comment|comments|bemerkung|bemerkungen|notiz|notizen|anmerkung|anmerkungen
        |kommentar|remarque|remarques|commentaire|commentaires|nota|osservazioni|commenti|notas|observaciones
        |comentario|comentarios|anteckning|anteckningar|anmarkning|poznamka|poznamky|uwagi|uwaga|notatki|komentarz
        |opmerking|opmerkingen""",
}  # fmt: skip
_NOT_TAKEN_APART = str.maketrans({"ł": "l", "Ł": "l", "ø": "o", "Ø": "o", "æ": "ae", "Æ": "ae", "ß": "ss", "œ": "oe"})
_SIGNS = re.compile(r"[^0-9a-z%]+")


def folded(text: str) -> str:
    """Return words without capitals, accents and signs, one blank between them.

    Examples
    --------
    >>> folded(" Stück-Gewicht:"), folded("Část"), folded("known_by"), folded("Σ")
    ('stuck gewicht', 'cast', 'known by', '')
    """
    spread = unicodedata.normalize("NFKD", text[:80].translate(_NOT_TAKEN_APART))
    bare = "".join(letter for letter in spread if not unicodedata.combining(letter)).casefold()
    return _SIGNS.sub(" ", bare).strip()


@lru_cache(maxsize=1)
def _by_word() -> dict[str, tuple[str, ...]]:
    found: dict[str, tuple[str, ...]] = {}
    for field, listed in _WORDS.items():
        for word in re.split(r"\s*\|", listed):
            found[folded(word)] = tuple(dict.fromkeys((*found.get(folded(word), ()), field)))
    return found


def named(words: str) -> tuple[str, ...]:
    """Return the fields that a heading may name, in their order; none for an unknown one.

    Examples
    --------
    >>> named("Gewicht"), named("nombre"), named("POIDS pesé"), named("colour"), named("Σ")
    (('mass',), ('name', 'count'), ('weighed',), (), ())
    """
    return _by_word().get(folded(words), ())
