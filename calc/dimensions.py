"""The kinds of quantities: their units, and the spellings that people write for them.

Plain text, matched by `calc.units`, which gets the factors of the units named here from pint.
"""

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Dimension:
    """A kind of quantity: its SI unit, the unit a bare number takes, and the spellings read."""

    name: str
    si: str  # pint's name of the SI unit the sums use
    metric: str  # label of the default unit in a metric budget
    imperial: str  # label of the default unit in an imperial budget
    units: dict[str, str]  # label -> pint's name
    spellings: dict[str, str]  # other spelling -> label
    example: str


def _pairs(listed: str) -> list[tuple[str, str]]:
    """Return (left, right) of each `left=right`; the left may be empty."""
    return [(pair.rsplit("=", 1)[0], pair.rsplit("=", 1)[1]) for pair in listed.split()]


def _dimension(
    name: str, si: str, metric: str, imperial: str, example: str, units: str, spellings: str = ""
) -> Dimension:
    """Build a Dimension from compact lists: `label=pint_name` and `spelling=label`, parted by spaces."""
    return Dimension(
        name=name, si=si, metric=metric, imperial=imperial, example=example,
        units=dict(_pairs(units)), spellings=dict(_pairs(spellings)),
    )  # fmt: skip


_ALL = (
    _dimension("mass", "kilogram", "g", "oz", "1.2 g or 0.04 oz",
        "g=gram mg=milligram kg=kilogram oz=ounce lb=pound",
        "gram=g grams=g gramme=g grammes=g ounce=oz ounces=oz lbs=lb pound=lb pounds=lb kilogram=kg kilograms=kg "
        "gr=g grs=g gm=g gms=g grm=g gramm=g grammi=g gramos=g gramy=g gramów=g ozs=oz unze=oz unzen=oz onces=oz "
        "kgs=kg kilo=kg kilos=kg kilogramm=kg mgs=mg milligrams=mg"),
    _dimension("length", "meter", "mm", "in", "120 mm or 4 3/4 in",
        "mm=millimeter cm=centimeter dm=decimeter m=meter µm=micrometer in=inch ft=foot",
        """inch=in inches=in "=in ”=in ''=in ’’=in foot=ft feet=ft '=ft ’=ft um=µm micron=µm
        millimetre=mm millimetres=mm millimeter=mm centimetre=cm metre=m metres=m meter=m mms=mm cms=cm ins=in
        zoll=in"""),
    _dimension("height", "meter", "m", "ft", "50 m or 160 ft",
        "m=meter km=kilometer ft=foot", "metre=m metres=m meter=m '=ft feet=ft foot=ft"),
    _dimension("area", "meter**2", "dm²", "in²", "8.6 dm² or 133 sq in",
        "mm²=millimeter**2 cm²=centimeter**2 dm²=decimeter**2 m²=meter**2 in²=inch**2 ft²=foot**2",
        "sqmm=mm² sqcm=cm² sqdm=dm² sqm=m² sqin=in² sqft=ft² sqinches=in² squareinches=in² squarefeet=ft²"),
    _dimension("loading", "kilogram/meter**2", "g/dm²", "oz/ft²", "9 g/dm² or 3 oz/sq ft",
        "g/dm²=gram/decimeter**2 kg/m²=kilogram/meter**2 g/m²=gram/meter**2 g/cm²=gram/centimeter**2 "
        "oz/ft²=ounce/foot**2 oz/in²=ounce/inch**2 oz/yd²=ounce/yard**2 lb/ft²=pound/foot**2",
        "g/sqdm=g/dm² oz/sqft=oz/ft² oz/sqin=oz/in² oz/sqyd=oz/yd² lb/sqft=lb/ft² gsm=g/m² g/sqm=g/m² "
        "gr/dm²=g/dm² gm/dm²=g/dm² gr/sqdm=g/dm² gr/m²=g/m² gm/m²=g/m² gr/sqm=g/m² gr/cm²=g/cm² gm/cm²=g/cm²"),
    _dimension("current", "ampere", "mA", "mA", "28 mA",
        "mA=milliampere A=ampere µA=microampere", "ua=µA amp=A amps=A mamp=mA mamps=mA milliamp=mA milliamps=mA"),
    _dimension("voltage", "volt", "V", "V", "3.3 V", "V=volt mV=millivolt", "volt=V volts=V"),
    _dimension("resistance", "ohm", "Ω", "Ω", "1.1 ohm or 480 mohm",
        "Ω=ohm mΩ=milliohm", "ohm=Ω ohms=Ω Ohm=Ω Ohms=Ω OHM=Ω mohm=mΩ mohms=mΩ mOhm=mΩ milliohm=mΩ milliohms=mΩ"),
    _dimension("charge", "coulomb", "mAh", "mAh", "30 mAh",
        "mAh=milliampere*hour Ah=ampere*hour", "ma/h=mAh ma-h=mAh mahr=mAh mahrs=mAh"),
    _dimension("time", "second", "min", "min", "6 min, 90 s or 1:47",
        "s=second min=minute h=hour",
        "sec=s secs=s second=s seconds=s mins=min minute=min minutes=min hr=h hrs=h hour=h hours=h"),
    _dimension("temperature", "kelvin", "°C", "°F", "8 °C or 46 °F",
        "°C=degree_Celsius °F=degree_Fahrenheit K=kelvin",
        "c=°C degc=°C celsius=°C degcelsius=°C f=°F degf=°F fahrenheit=°F kelvin=K"),
    _dimension("speed", "meter/second", "m/s", "ft/s", "6 m/s or 20 ft/s",
        "m/s=meter/second km/h=kilometer/hour ft/s=foot/second mph=mile/hour", "kmh=km/h kph=km/h mps=m/s fps=ft/s"),
    _dimension("force", "newton", "N", "ozf", "0.3 N, 30 gf or 1 ozf",
        "N=newton mN=millinewton gf=gram_force kgf=kilogram_force ozf=ounce_force lbf=pound_force",
        "g=gf gr=gf grs=gf gm=gf gms=gf gram=gf grams=gf gramm=gf kg=kgf kgs=kgf oz=ozf ozs=ozf ounce=ozf ounces=ozf "
        "lb=lbf lbs=lbf pound=lbf pounds=lbf"),
    _dimension("torque", "newton*meter", "mN·m", "ozf·in", "5 mN m, 50 g cm or 0.7 oz in",
        "mN·m=millinewton*meter N·m=newton*meter gf·cm=gram_force*centimeter kgf·cm=kilogram_force*centimeter "
        "ozf·in=ounce_force*inch N·cm=newton*centimeter",
        "gr/cm=gf·cm grcm=gf·cm gmcm=gf·cm gramcm=gf·cm g-cm=gf·cm gr-cm=gf·cm gm-cm=gf·cm gf-cm=gf·cm gf/cm=gf·cm "
        "kg-cm=kgf·cm kgf-cm=kgf·cm kgf/cm=kgf·cm kgscm=kgf·cm oz-in=ozf·in in-oz=ozf·in inoz=ozf·in ozf-in=ozf·in "
        "ncm=N·cm n-cm=N·cm nmm=mN·m gcm=gf·cm g/cm=gf·cm kgcm=kgf·cm kg/cm=kgf·cm ozin=ozf·in oz/in=ozf·in"),
    _dimension("angle", "radian", "°", "°", "20°", "°=degree rad=radian", "deg=° degree=° degrees=°"),
    _dimension("density", "kilogram/meter**3", "kg/m³", "lb/ft³", "160 kg/m³ or 10 lb/cu ft",
        "kg/m³=kilogram/meter**3 g/cm³=gram/centimeter**3 lb/ft³=pound/foot**3",
        "kg/m3=kg/m³ g/cm3=g/cm³ g/cc=g/cm³ g/ml=g/cm³ lb/ft3=lb/ft³ lb/cuft=lb/ft³ lbs/cuft=lb/ft³ "
        "gr/cm³=g/cm³ gr/cc=g/cm³ gm/cc=g/cm³ gm/cm³=g/cm³"),
    _dimension("modulus", "pascal", "GPa", "GPa", "134 GPa",
        "GPa=gigapascal MPa=megapascal N/mm²=newton/millimeter**2"),
    _dimension("volume", "meter**3", "ml", "ml", "0.5 ml",
        "ml=centimeter**3 µl=millimeter**3", "cm3=ml cc=ml mm3=µl ul=µl"),
    _dimension("linear density", "kilogram/meter", "tex", "tex", "22 tex, 220 dtex or 200 den",
        "tex=tex dtex=decitex den=denier g/m=gram/meter", "denier=den g/km=tex gr/km=tex gr/m=g/m gm/m=g/m"),
    _dimension("specific energy", "joule/kilogram", "kJ/kg", "ft·lb/lb", "4 kJ/kg or 1300 ft lb/lb",
        "kJ/kg=kilojoule/kilogram J/g=joule/gram J/kg=joule/kilogram ft·lb/lb=foot*pound_force/pound",
        "ftlbf/lb=ft·lb/lb"),
    _dimension("energy", "joule", "J", "ft·lbf", "3 J or 2.2 ft lbf",
        "J=joule mJ=millijoule ft·lbf=foot*pound_force", "ftlb=ft·lbf ftlbf=ft·lbf"),
    _dimension("frequency", "hertz", "MHz", "MHz", "2.4 GHz or 868 MHz", "MHz=megahertz GHz=gigahertz kHz=kilohertz"),
    _dimension("level", "radian", "dBm", "dBm", "−95 dBm", "dBm=radian"),
    _dimension("decibels", "radian", "dB", "dB", "20 dB", "dB=radian"),
    _dimension("number", "radian", "", "", "0.7", "=radian"),
    _dimension("ratio", "radian", "%", "%", "20 %", "%=percent", "percent=% pct=% pc=%"),
)  # fmt: skip
DIMENSIONS = {dimension.name: dimension for dimension in _ALL}
