"""What people call the columns of a sheet beside the words of the vocabulary. Written from common usage, no source."""

from collections.abc import Mapping, Sequence

# A word under several fields is never taken: the person is asked.
USUAL: Mapping[str, Sequence[str]] = {
    "tag": (
        "tyre id", "tyre no", "tyre number", "tyre tag", "tag no", "tag number", "id", "tyre", "asset", "asset no",
        "asset number", "fleet no", "fleet number", "casing no", "casing number", "yard no", "yard number",
        "tire", "tire id", "tire no", "tire number",
    ),
    "judged on": ("inspection date", "date of inspection", "inspected on", "surveyed on", "date", "survey date"),
    "earlier repairs": ("previous repairs", "old repairs", "earlier repair", "previous repair", "repairs before"),
    "tyre.designation": ("tyre size", "size designation", "tire size", "size", "dimension", "tyre"),
    "tyre.date code": ("dot", "dot code", "dot week", "week and year", "serial", "serial no", "serial number", "date"),
    "tyre.retread date code": ("retread dot", "retread code"),
    "tyre.construction": ("build", "radial or bias", "type"),
    "tyre.casing": ("cord", "casing material"),
    "tyre.tread left": ("rtd", "tread remaining", "remaining tread depth", "tread", "least tread"),
    "tyre.tread new": ("otd", "original tread", "original tread depth", "new tread depth", "tread depth new", "tread"),
    "tyre.tread depths": ("tread readings", "tread reading"),
    "tyre.load index": ("li",),
    "tyre.star rating": ("stars", "star"),
    "tyre.ply rating": ("pr", "ply"),
    "tyre.plies": ("ply", "number of plies", "casing plies"),
    "tyre.belts": ("number of belts", "working belts"),
    "tyre.outside diameter": ("od", "overall diameter"),
    "found.pressure at removal": ("pressure found", "removal pressure", "pressure when removed", "pressure"),
    "service.pressure specified": (
        "specified pressure", "target pressure", "required pressure", "pressure required", "pressure",
    ),
    "service.speed": ("top speed", "max speed", "maximum speed", "highest speed"),
    "service.ambient": ("ambient temperature", "temperature"),
    "workshop.tyre temperature": ("temperature",),
    "found.temperature at removal": ("temperature",),
    "service.use": ("road use", "on or off road"),
    "service.duty": ("machine", "application", "work"),
    "name": ("injury", "injury name", "injury no", "injury number", "injury id", "mark", "damage no", "cut no"),
    "kind": ("injury type", "type of injury", "damage type", "type of damage", "injury kind", "cause", "type"),
    "zone": ("location",),
    "side": ("location", "tyre side"),
    "clock": ("clock position", "o clock", "clock angle"),
    "distance from bead": ("from bead", "bead toe distance"),
    "distance from centreline": ("from centreline", "from centerline", "distance from centerline"),
    "length": ("length of injury", "size"),
    "depth": ("depth of injury",),
    "cords cut": ("cut cords", "cords"),
    "reaches": ("how deep it goes", "penetration"),
    "plies damaged": ("damaged plies",),
    "belts damaged": ("damaged belts",),
}  # fmt: skip

# What may stand before the name of a field: the section, or what people say instead.
PREFIXES: Mapping[str, Sequence[str]] = {
    "tyre": ("tyre", "tire"),
    "found": ("found", "tyre", "tire"),
    "service": ("service",),
    "workshop": ("workshop", "shop"),
    "injuries": ("injuries", "injury", "damage", "cut"),
}
