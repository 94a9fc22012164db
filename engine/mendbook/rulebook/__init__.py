"""The rulebook: from YAML to a tree with line numbers, citations and limit tables. It holds no word of the trade."""
