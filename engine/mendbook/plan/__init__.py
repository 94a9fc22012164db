"""How a permitted repair is done: process, kit, materials, steps, limits, and the order to the cure module."""
