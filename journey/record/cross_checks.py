"""What is well formed and still makes no sense, found by an ordered row of checks.

Each check looks at the whole draft for one kind of nonsense. A new one is a function in `checks/`, a line
here, and a folder in tests/record/broken/.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from journey.errors import Problem
from journey.record.checks import attachments, bowls, dates, people, places, products, references, services
from journey.record.draft import Doubt, Draft

Check = Callable[[Draft], Iterator[Doubt]]

CHECKS: tuple[Check, ...] = (
    references.zones_exist,
    references.products_exist,
    references.stylists_exist,
    references.traits_exist,
    references.photos_exist,
    references.wordings_exist,
    references.people_exist,
    references.keys_given_once,
    references.nothing_named_twice,
    dates.entries_in_order,
    dates.tests_before_visits,
    dates.consent_in_order,
    people.guardians_are_named,
    people.minors_have_guardians,
    people.photographers_are_others,
    products.products_fit_roles,
    products.refresh_shares_in_order,
    products.assumptions_make_sense,
    services.fields_fit_kinds,
    services.kinds_are_complete,
    services.extensions_in_before_out,
    services.levels_rise,
    services.times_fit,
    services.sessions_in_order,
    bowls.bowls_fit_kinds,
    bowls.removal_agrees_with_bowl,
    bowls.bowls_add_up,
    places.something_to_follow,
    places.lengths_make_sense,
    places.shares_of_head_fit,
    places.moments_fit,
    places.charts_have_four_sides,
    places.lamps_have_charts,
    places.magnified_is_measured,
    places.choices_can_be_chosen,
    attachments.photo_files_are_there,
    attachments.photo_folder_is_portable,
    attachments.photo_files_are_used_once,
    attachments.wordings_are_unchanged,
)
"""In the order they are run; problems are sorted by file and line afterwards."""


def senseless(draft: Draft) -> list[Problem]:
    """Every problem of sense in a folder."""
    found = [draft.problem(doubt) for check in CHECKS for doubt in check(draft)]
    return [problem for problem in found if problem is not None]
