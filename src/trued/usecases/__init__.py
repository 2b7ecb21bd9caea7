"""The use cases, one verb a file: the only door for every surface.

Here the core is told the features that the checks declare: loaded when the first of them is asked for.
"""

from trued.standing.catalogue import Catalogue
from trued.standing.feature import declare_by


def _declared() -> Catalogue:
    from trued.usecases.shop.list_checks import catalogue

    return catalogue()


declare_by(_declared)
