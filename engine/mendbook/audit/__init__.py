"""An audit of a rulebook: what is proven of it, and what a change to it would change."""
