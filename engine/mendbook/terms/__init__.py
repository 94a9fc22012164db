"""The words everyone shares: quantities, tyre markings, verdicts, facts, cases, dockets and cure orders."""
