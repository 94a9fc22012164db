"""How tyres are hurt in the invented yards: causes, places and depths, and how often each. Invented, like the fleet."""

from dataclasses import dataclass

ZONES = ("crown centre", "crown edge", "shoulder", "upper sidewall", "lower sidewall", "bead")
PLACES = (
    (830, 960),
    (755, 795),
    (565, 700),
    (335, 500),
    (205, 285),
    (40, 130),
)  # from the bead, thousandths of half girth
REACHES = ("rubber", "cord", "plies", "through")
GROUNDS = ("rock", "grit", "quay", "road")

# Length around and width across, thousandths of section width, from the smallest to the largest of each depth.
LENGTHS = ((8, 30, 55, 90, 150, 420), (8, 25, 45, 70, 110, 300), (8, 22, 38, 60, 95, 260), (5, 14, 30, 52, 90, 280))
# Depth, in hundredths of what is there to go through.
DEPTHS = ((5, 15, 30, 45, 80), (70, 80, 90), (75, 85, 95), (100, 100))


@dataclass(frozen=True)
class Kind:
    """A cause: how often on each ground, in which zones, how deep; `shape` is width per length, hundredths, from to."""

    name: str
    grounds: tuple[int, int, int, int]
    zones: tuple[int, int, int, int, int, int]
    reaches: tuple[int, int, int, int]
    shape: tuple[int, int] = (30, 200)
    size: int = 100  # hundredths of the usual


KINDS = (
    Kind("cut", (440, 400, 260, 160), (16, 10, 16, 36, 16, 3), (46, 12, 22, 20)),
    Kind("puncture", (90, 180, 260, 520), (52, 20, 10, 12, 4, 0), (5, 5, 20, 70), (80, 120), 28),
    Kind("impact break", (110, 40, 70, 60), (22, 14, 22, 30, 10, 1), (0, 4, 40, 56), (50, 160), 90),
    Kind("rock drill", (70, 40, 0, 0), (50, 30, 14, 6, 0, 0), (20, 10, 35, 35), (70, 130), 55),
    Kind("abrasion", (90, 140, 190, 90), (2, 6, 20, 50, 20, 2), (82, 14, 4, 0), (40, 150), 150),
    Kind("chunk", (100, 60, 30, 20), (50, 34, 14, 2, 0, 0), (84, 10, 6, 0), (60, 140), 110),
    Kind("crack", (30, 70, 90, 60), (4, 10, 24, 42, 16, 4), (70, 20, 10, 0), (8, 40), 150),
    Kind("burn", (4, 2, 6, 6), (10, 10, 30, 30, 10, 10), (70, 14, 12, 4), (60, 140), 90),
    Kind("chain damage", (24, 20, 4, 6), (10, 10, 40, 40, 0, 0), (80, 14, 6, 0), (40, 160), 90),
    Kind("chemical", (6, 10, 30, 14), (20, 14, 20, 30, 10, 6), (86, 10, 4, 0), (60, 140), 120),
    Kind("separation", (20, 20, 30, 30), (16, 30, 34, 12, 6, 2), (0, 40, 60, 0), (60, 140), 100),
    Kind("liner only", (16, 18, 30, 34), (20, 10, 20, 30, 16, 4), (90, 8, 2, 0), (50, 150), 60),
)
