"""Every rule that holds between the parts of a plan."""

from collections.abc import Callable, Iterator

from salebook.plan import kiln_rules, sale_rules, ware_rules
from salebook.plan.draft import Draft
from salebook.plan.faults import Finding

Rule = Callable[[Draft], Iterator[Finding]]

RULES: tuple[Rule, ...] = (
    ware_rules.something_is_for_sale,
    sale_rules.somebody_gains,
    sale_rules.names_are_unique,
    ware_rules.codes_are_unique,
    ware_rules.carried_pieces_have_numbers_of_their_own,
    ware_rules.carried_pieces_are_the_makers,
    sale_rules.money_has_the_minor_digits_of_its_currency,
    ware_rules.every_clay_is_known,
    ware_rules.drying_is_part_of_shrinkage,
    ware_rules.sizes_made_and_fired_agree,
    ware_rules.enough_pieces_come_through,
    ware_rules.no_more_is_lost_than_went_in,
    ware_rules.one_number_at_most_is_left_to_the_target,
    ware_rules.pieces_can_be_counted,
    ware_rules.nobody_speaks_for_more_than_there_is,
    ware_rules.wares_lists_name_known_codes,
    kiln_rules.firings_have_a_kiln_and_energy,
    kiln_rules.wares_that_are_fired_have_sizes,
    kiln_rules.walls_are_given_whole,
    kiln_rules.a_kiln_without_walls_has_its_power,
    kiln_rules.a_gas_kiln_has_its_efficiency,
    kiln_rules.a_shelf_has_the_sizes_of_its_shape,
    kiln_rules.the_calibration_is_of_a_known_firing,
    kiln_rules.firing_steps_lead_somewhere,
    kiln_rules.rates_cover_the_day_once,
    sale_rules.shares_of_payments_add_up,
    sale_rules.payments_go_to_known_groups,
    sale_rules.some_outlook_has_weight,
    sale_rules.labels_are_given_whole,
    sale_rules.labels_fit_on_their_page,
)


def broken_rules(draft: Draft) -> Iterator[Finding]:
    """Find everything in the sound parts of a plan that does not agree."""
    for rule in RULES:
        yield from rule(draft)
