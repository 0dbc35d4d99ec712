"""How often something happens over the whole sale: what a material or a kind of work is multiplied by."""

from collections.abc import Iterable

from salebook.making.loading import Loading
from salebook.making.losses import Run
from salebook.plan.model import Per, Plan


def count_for(
    per: Per, wares: tuple[str, ...], plan: Plan, runs: Iterable[Run], loadings: Iterable[Loading]
) -> int:
    """Return the count of one `per` over the wares with these codes; no codes: all wares.

    Loads and the sale belong to no ware. What is not made for the sale counts only as sold: donated pieces
    where no ware is named, those left from an earlier sale also where that of their code is.
    """
    if per == "sale":
        return 1
    if per == "load":
        loads = {loading.stage: loading.to_fire for loading in loadings}
        return sum(loads[firing.stage] for firing in plan.firings)
    counted = sum(_of_run(per, run) for run in runs if not wares or run.ware.code in wares)
    if per != "piece sold":
        return counted
    donated = 0 if wares else sum(given.count for given in plan.donated)
    return counted + donated + sum(left.count for left in plan.carried if not wares or left.stem in wares)


def _of_run(per: Per, run: Run) -> int:
    counts = {
        "piece started": run.started,
        "piece glazed": run.to_glaze,
        "piece finished": run.for_sale,
        "piece sold": run.for_sale,
        "batch": run.batches,
    }
    return counts[per]
