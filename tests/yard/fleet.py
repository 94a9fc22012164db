"""The machines and tyres of the invented yards. All figures are invented: no fleet, no data sheet.

Sizes, duties and causes are such as the trade knows at large; how often each comes is our own choice, made so that
every verdict and outcome of the shipped book turns up.
"""

from dataclasses import dataclass

YEAR, WEEK, DAY = 2026, 46, "2026-11-25"  # the day on which a made yard is judged, and a week that lies before it

SITES = (
    ("Fell Hollow quarry (invented)", "FH", "other"),
    ("Tarn Rise pit (invented)", "TR", "us"),
    ("Brackwater container yard (invented)", "BW", "uk"),
)


@dataclass(frozen=True)
class Size:
    """A tyre: its casing, least and most tread when new [mm] and pressure [0.1 bar].

    Half girth and section width [mm] place and scale the injuries.
    """

    designation: str
    casing: str
    plies: int
    belts: int
    tread: tuple[int, int]
    pressure: tuple[int, int]
    half_girth: int
    width: int

    @property
    def is_radial(self) -> bool:
        """Whether the casing plies run straight from bead to bead."""
        return "R" in self.designation


SIZES = (
    Size("17.5R25", "steel", 1, 3, (28, 50), (25, 45), 591, 444),
    Size("20.5R25", "steel", 1, 4, (32, 62), (30, 45), 693, 521),
    Size("23.5R25", "steel", 1, 4, (36, 84), (35, 50), 794, 597),
    Size("26.5R25", "steel", 1, 4, (40, 97), (40, 55), 895, 673),
    Size("29.5R25", "steel", 1, 4, (44, 102), (40, 55), 997, 749),
    Size("35/65R33", "steel", 1, 4, (60, 110), (50, 65), 998, 889),
    Size("14.00R24", "steel", 1, 3, (25, 32), (30, 42), 587, 356),
    Size("24.00R35", "steel", 1, 5, (50, 82), (55, 75), 1006, 610),
    Size("27.00R49", "steel", 1, 6, (55, 88), (60, 75), 1131, 686),
    Size("18.00R33", "steel", 1, 5, (45, 70), (60, 75), 754, 457),
    Size("875/65R29", "steel", 1, 4, (42, 66), (35, 50), 983, 875),
    Size("16.00R25", "steel", 1, 4, (40, 60), (80, 100), 670, 406),
    Size("445/95R25", "steel", 1, 4, (20, 26), (80, 100), 663, 445),
    Size("385/95R25", "steel", 1, 4, (19, 25), (80, 100), 573, 385),
    Size("315/80R22.5", "steel", 1, 4, (14, 20), (75, 90), 402, 315),
    Size("12.00R20", "steel", 1, 3, (15, 22), (72, 85), 478, 305),
    Size("295/80R22.5", "steel", 1, 4, (13, 18), (75, 88), 376, 295),
    Size("23.5-25", "nylon", 12, 0, (34, 60), (30, 45), 794, 597),
    Size("17.5-25", "nylon", 10, 0, (28, 60), (35, 50), 591, 444),
    Size("18.00-25", "nylon", 16, 0, (45, 68), (70, 100), 754, 457),
    Size("14.00-24", "nylon", 10, 0, (24, 30), (25, 40), 587, 356),
    Size("29.5-25", "nylon", 14, 0, (38, 60), (30, 45), 997, 749),
)


@dataclass(frozen=True)
class Machine:
    """What a machine does: how many of its tyres a yard has, where, on which sizes, how fast [km/h], on which road."""

    duty: str
    share: int
    sites: tuple[int, int, int]
    sizes: dict[str, int]
    speed: tuple[int, int]
    on_road: int = 0  # in a thousand
    steered: int = 250  # in a thousand
    ground: str = "rock"


MACHINES = (
    Machine("loader v-cycle", 24, (6, 4, 1), {"23.5R25": 4, "26.5R25": 4, "29.5R25": 2, "35/65R33": 1, "23.5-25": 1},
            (8, 18), steered=0),
    Machine("load and carry", 8, (5, 4, 0), {"26.5R25": 3, "29.5R25": 3, "875/65R29": 1}, (15, 30), steered=0),
    Machine("haul short", 18, (5, 5, 0), {"24.00R35": 4, "18.00R33": 3, "29.5R25": 2}, (25, 45)),
    Machine("haul long", 8, (2, 5, 0), {"24.00R35": 3, "27.00R49": 3, "23.5R25": 2}, (35, 60)),
    Machine("grader", 7, (4, 4, 1), {"14.00-24": 4, "14.00R24": 3, "17.5R25": 3, "20.5R25": 1}, (15, 40),
            ground="grit"),
    Machine("dozer or compactor", 3, (4, 4, 0), {"23.5-25": 2, "29.5-25": 1, "26.5R25": 1}, (6, 14), steered=0),
    Machine("underground loader", 5, (0, 6, 0), {"18.00-25": 3, "17.5-25": 2, "26.5R25": 1}, (6, 16), steered=0),
    Machine("scraper", 2, (1, 4, 0), {"29.5-25": 1, "29.5R25": 2}, (25, 45)),
    Machine("port handler", 8, (0, 0, 9), {"18.00-25": 6, "16.00R25": 2}, (10, 25), ground="quay"),
    Machine("straddle or gantry", 4, (0, 0, 9), {"16.00R25": 4, "18.00-25": 1}, (10, 28), ground="quay"),
    Machine("mobile crane", 3, (1, 1, 6), {"445/95R25": 1, "385/95R25": 2}, (50, 80), 700, ground="quay"),
    Machine("truck", 7, (2, 3, 5), {"315/80R22.5": 5, "12.00R20": 2, "295/80R22.5": 2}, (60, 90), 950, 300, "road"),
    Machine("trailer", 2, (1, 1, 4), {"315/80R22.5": 2, "295/80R22.5": 1}, (60, 90), 980, 0, "road"),
    Machine("bus", 1, (0, 0, 1), {"295/80R22.5": 1}, (60, 90), 1000, 350, "road"),
)  # fmt: skip
