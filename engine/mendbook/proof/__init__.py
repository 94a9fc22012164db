"""Static checks of a rulebook: what can be known of it before any case is judged. They hold no word of the trade."""
