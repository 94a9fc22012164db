"""Two layers, and a wall under a pad that ends, in FiPy, a general library for partial differential equations.

Cell-centred, implicit Euler. FiPy is asked for scipy's solvers, whatever else is installed; what it warns of as it is
imported is its own affair.
"""

import os
import warnings

import numpy as np

os.environ.setdefault("FIPY_SOLVERS", "scipy")
with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import fipy

FIRST, SECOND = 0.030, 0.050  # m
PLACES = (0.015, 0.030, 0.055)  # m: in either layer, and their interface


class TwoLayers:
    """30 mm of fill and 50 mm of steel casing at 20 °C, both faces suddenly at 140 °C."""

    def __init__(self, cells: int) -> None:
        """Cut them into `cells`: a multiple of 16, so that a face lies at every place that is looked at."""
        self.size = (FIRST + SECOND) / cells
        fill = (np.arange(cells) + 0.5) * self.size < FIRST
        self.conductivity = np.where(fill, 0.25, 0.31)
        self.heat = np.where(fill, 1120 * 1850.0, 1790 * 1245.0)
        between = 2 / (1 / self.conductivity[1:] + 1 / self.conductivity[:-1])
        mesh = fipy.Grid1D(nx=cells, dx=self.size)
        self.temperature = fipy.CellVariable(mesh=mesh, value=20.0, hasOld=True)
        self.temperature.constrain(140.0, mesh.facesLeft)
        self.temperature.constrain(140.0, mesh.facesRight)
        through = fipy.FaceVariable(
            mesh=mesh, value=np.concatenate([self.conductivity[:1], between, self.conductivity[-1:]])
        )
        stored = fipy.TransientTerm(coeff=fipy.CellVariable(mesh=mesh, value=self.heat))
        self.equation = stored == fipy.DiffusionTerm(coeff=through)

    def march(self, seconds: float, steps: int) -> np.ndarray:
        """Return the temperatures at PLACES after `seconds`: a face between cells takes as much from both sides."""
        for _ in range(steps):
            self.temperature.updateOld()
            self.equation.solve(var=self.temperature, dt=seconds / steps)
        cells, after = self.temperature.value, [round(place / self.size) for place in PLACES]
        pull = self.conductivity
        return np.array([(pull[i - 1] * cells[i - 1] + pull[i] * cells[i]) / (pull[i - 1] + pull[i]) for i in after])

    def decay(self, count: int) -> np.ndarray:
        """Return the slowest rates of decay [1/s] of the matrix that FiPy sets up."""
        self.equation.cacheMatrix()
        self.temperature.updateOld()
        self.equation.solve(var=self.temperature, dt=1e12)
        conduction = self.equation.matrix.numpyArray - np.diag(self.heat * self.size / 1e12)
        return np.sort(np.linalg.eigvals(conduction / (self.heat * self.size)[:, None]).real)[:count]


class UnderStrip:
    """40 mm of fill at 20 °C, a preheated strip of 140 °C on both faces, 10 W/(m2 K) lost beside: half of the wall.

    Depth from the middle, breadth from a plane far under the pad, whose edge is EDGE away.
    """

    EDGE, HALF = 0.080, 0.020  # m

    def __init__(self, rows: int) -> None:
        """Cut half of the thickness into `rows`, and the breadth into cells as long."""
        size = self.HALF / rows
        columns = round((self.EDGE + 3 * self.HALF) / size)
        mesh = fipy.Grid2D(dx=size, dy=size, nx=columns, ny=rows)
        x, y = mesh.cellCenters.value
        at_face, under = y > self.HALF - size, x < self.EDGE
        rubber = size / 2 / 0.25  # from the middle of the outermost cells to the face
        link = np.where(at_face, np.where(under, 1 / (5e-4 + rubber), 1 / (1 / 10.0 + rubber)), 0.0) / size
        self.shape = rows, columns
        self.size = size
        self.temperature = fipy.CellVariable(mesh=mesh, value=20.0, hasOld=True)
        given = fipy.CellVariable(mesh=mesh, value=link * np.where(under, 140.0, 20.0))
        taken = fipy.CellVariable(mesh=mesh, value=link)
        self.equation = fipy.TransientTerm(coeff=1120 * 1850.0) == (
            fipy.DiffusionTerm(coeff=0.25) + given - fipy.ImplicitSourceTerm(coeff=taken)
        )

    def march(self, seconds: float, steps: int, inside: np.ndarray) -> np.ndarray:
        """Return the temperature of the middle of the wall at distances `inside` the edge [m] after `seconds`."""
        for _ in range(steps):
            self.temperature.updateOld()
            self.equation.solve(var=self.temperature, dt=seconds / steps)
        cells = self.temperature.value.reshape(self.shape)
        middle = (9 * cells[0] - cells[1]) / 8  # a parabola that is level in the middle
        return np.interp(self.EDGE - inside, (np.arange(self.shape[1]) + 0.5) * self.size, middle)
