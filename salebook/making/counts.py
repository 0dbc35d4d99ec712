"""How often something happens over the whole sale: what a material or a kind of work is multiplied by."""

from collections.abc import Iterable

from salebook.making.loading import Loading
from salebook.making.losses import Run
from salebook.plan.model import Per, Plan


def count_for(
    per: Per, wares: tuple[str, ...], plan: Plan, runs: Iterable[Run], loadings: Iterable[Loading]
) -> int:
    """Return the count of one `per` over the wares with these codes; no codes: all wares.

    Loads and the sale belong to no ware. Donated pieces count only as sold, and only where no ware is named.
    """
    if per == "sale":
        return 1
    if per == "load":
        loads = {loading.stage: loading.to_fire for loading in loadings}
        return sum(loads[firing.stage] for firing in plan.firings)
    counted = sum(_of_run(per, run) for run in runs if not wares or run.ware.code in wares)
    donated = sum(given.count for given in plan.donated) if per == "piece sold" and not wares else 0
    return counted + donated


def _of_run(per: Per, run: Run) -> int:
    counts = {
        "piece started": run.started,
        "piece glazed": run.to_glaze,
        "piece finished": run.for_sale,
        "piece sold": run.for_sale,
        "batch": run.batches,
    }
    return counts[per]
