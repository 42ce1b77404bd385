"""Where the pages for paper stand."""

from __future__ import annotations

from briefgen.pages.context import PageContext


def sortie_cards_uri(context: PageContext, sortie: str) -> str:
    """The page that prints every card of a sortie. No id ends with a hyphen, and `index` is taken."""
    return f"cards/{'index-' if sortie == 'index' else sortie}"


def person_card_uri(context: PageContext, sortie: str, person: str) -> str:
    """The page of one person's card, a folder below its sortie's, so that no two ids run together."""
    return f"{sortie_cards_uri(context, sortie)}/{'index-' if person == 'index' else person}"
