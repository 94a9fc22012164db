"""What a repair is worth, as a page for the manager. `page` lays it out, `picture` draws the levers."""

from mendbook.card.worth.page import worth_page, worth_part

__all__ = ["worth_page", "worth_part"]
