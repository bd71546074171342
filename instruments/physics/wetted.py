"""Seals and wetted materials: the temperatures that they stand, and which kinds of medium suit them. Pure.

All of it is common practice: it gives at most a caution, and what the tables do not hold is unknown, never good.
"""

from dataclasses import dataclass
from typing import Literal

from instruments.physics.flange_names import material_key
from instruments.physics.published_tables import celsius, kelvin, number_or_none, read_rows

GOOD = "good"
LIMITED = "limited"
UNSUITABLE = "unsuitable"
VERDICTS = (GOOD, LIMITED, UNSUITABLE)

MEDIUM_KINDS = (
    "water", "hot_water", "steam", "alcohols", "aliphatic_hydrocarbons", "aromatic_hydrocarbons", "mineral_oil",
    "vegetable_oil", "ketones", "esters", "chlorinated_solvents", "amines", "ammonia", "dilute_mineral_acid",
    "hydrochloric_acid", "concentrated_sulfuric_acid", "nitric_acid", "organic_acid", "caustic", "chlorides",
    "hot_chlorides", "wet_chlorine", "molten_alkali_metal", "fluorine",
)  # fmt: skip
KINDS_OF_MATERIAL = ("elastomer", "plastic", "metal", "mineral")
NOTES = ("", "special", "methanol", "cracking", "crevice")

TemperatureVerdict = Literal["within", "special_compound", "below", "above"]


@dataclass(frozen=True, slots=True)
class Material:
    """A seal or wetted material and the temperatures that it stands, dry and continuously, in K; None is unknown.

    minimum_k, maximum_k   what every usual compound stands
    special_minimum_k, special_maximum_k   what some compounds stand beyond that; None where nothing is said
    kind                   elastomer, plastic (not elastic), metal or mineral (ceramic, glass, graphite)
    origin                 practice or memory
    """

    name: str
    kind: str
    minimum_k: float | None
    maximum_k: float | None
    special_minimum_k: float | None
    special_maximum_k: float | None
    origin: str


@dataclass(frozen=True, slots=True)
class Suitability:
    """How a material suits a kind of medium.

    verdict    good, limited, unsuitable; None where it is unknown
    origin     "practice", "" where it is unknown
    maximum_k  the verdict holds up to there only; None: the material's own limit counts
    note       "" or special, methanol, cracking, crevice (see the table's head)
    """

    verdict: str | None
    origin: str = ""
    maximum_k: float | None = None
    note: str = ""


def _load_materials() -> tuple[dict[str, Material], dict[str, str]]:
    """Materials by name, and their names by key."""
    temperatures = ("temperature_min_c", "temperature_max_c", "special_min_c", "special_max_c")
    materials: dict[str, Material] = {}
    names: dict[str, str] = {}
    for row in read_rows("wetted_materials.csv", ("material", "names", "kind", *temperatures)):
        if row["kind"] not in KINDS_OF_MATERIAL:
            raise ValueError(f"kind is {row['kind']!r}; accepted is one of {', '.join(KINDS_OF_MATERIAL)}")
        low, high, special_low, special_high = (kelvin(number_or_none(row[name], name)) for name in temperatures)
        materials[row["material"]] = Material(
            row["material"], row["kind"], low, high, special_low, special_high, row["origin"]
        )
        for name in row["names"].split("|"):
            if material_key(name) in names:
                raise ValueError(f"wetted_materials.csv: {name} stands twice")
            names[material_key(name)] = row["material"]
    return materials, names


def _load_suitability() -> dict[tuple[str, str], Suitability]:
    table: dict[tuple[str, str], Suitability] = {}
    columns = ("material", "medium_kind", "verdict", "temperature_max_c", "note")
    for row in read_rows("wetted_suitability.csv", columns):
        key = row["material"], row["medium_kind"]
        for value, accepted in (
            (key[0], _MATERIALS), (key[1], MEDIUM_KINDS), (row["verdict"], VERDICTS), (row["note"], NOTES),
        ):  # fmt: skip
            if value not in accepted:
                raise ValueError(f"wetted_suitability.csv: {value!r}; accepted is one of {', '.join(accepted)}")
        if key in table:
            raise ValueError(f"wetted_suitability.csv: {key} stands twice")
        maximum_k = kelvin(number_or_none(row["temperature_max_c"], "temperature_max_c"))
        table[key] = Suitability(row["verdict"], row["origin"], maximum_k, row["note"])
    return table


_MATERIALS, _NAMES = _load_materials()
_TABLE = _load_suitability()


def find_material(text: str) -> Material | None:
    """The material that a text names, None where it names none: "FKM", "316", "1.4404", "PTFE".

    316 and 316L count as one here, for corrosion; as flange materials they are not (see `flange_rating.group_of`).
    Source: seal handbooks agree within 20 K; metals and the rest: common practice.
    """
    name = _NAMES.get(material_key(text))
    return None if name is None else _MATERIALS[name]


def suitability(material: str, medium_kind: str) -> Suitability:
    """How a material suits a kind of medium.

    material     as `find_material` takes it
    medium_kind  one of `MEDIUM_KINDS`, else ValueError

    Returns a `Suitability`; its verdict is None where the material or the pair is not tabulated: unknown, not good.
    Valid as a first screening: mixtures, traces, concentration and temperature change it.
    Source: common practice, no single source.
    """
    if medium_kind not in MEDIUM_KINDS:
        raise ValueError(f"medium_kind is {medium_kind!r}; accepted is one of {', '.join(MEDIUM_KINDS)}")
    found = find_material(material)
    return Suitability(None) if found is None else _TABLE.get((found.name, medium_kind), Suitability(None))


def temperature_verdict(material: str, temperature_k: float) -> TemperatureVerdict | None:
    """Whether a material stands a temperature, dry and continuously.

    material       as `find_material` takes it
    temperature_k  K; ValueError where not finite or below 0 K

    Returns "within" (limits included), "special_compound" where only some compounds do, "below", "above", or None where
    the material, or its limit on that side, is unknown. Source: seal handbooks, agreeing within 20 K; common practice.
    """
    temperature_c = celsius(temperature_k)
    found = find_material(material)
    if found is None or (found.minimum_k is None and found.maximum_k is None):
        return None
    if found.maximum_k is not None and temperature_c > celsius(found.maximum_k):
        special_k = found.special_maximum_k
        return "special_compound" if special_k is not None and temperature_c <= celsius(special_k) else "above"
    if found.minimum_k is not None and temperature_c < celsius(found.minimum_k):
        special_k = found.special_minimum_k
        return "special_compound" if special_k is not None and temperature_c >= celsius(special_k) else "below"
    return None if found.minimum_k is None or found.maximum_k is None else "within"
