"""The papers of a job: the card to work from, and the limits tag that stays on the tyre.

`blocks` is what a paper consists of; `card` and `tag` say what stands on them, once; `page` lays a paper out as HTML
and `sheet` as PDF, so that the two cannot say different things.
"""
