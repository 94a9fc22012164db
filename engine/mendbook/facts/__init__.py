"""From a case to the facts that rules look at: one implementation in Polars, for one tyre or a million."""
