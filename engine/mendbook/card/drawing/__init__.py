"""Line drawings in millimetres of paper: first shapes with names and coordinates, then, apart from them, their ink.

`shapes` is what a drawing consists of, `contour` the curve of a section; `section_view`, `clock_view`, `stack_view`
and `cure_view` draw; `labels` keeps words apart; `inks` says how lines look and `svg` writes them down.
"""
