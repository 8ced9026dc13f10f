"""What a visitor does, for the browser tests: start, type, read the answer."""

from typing import Any

from playwright.sync_api import Page, Route

READY = """new Promise((ready, reject) => {
  const root = document.documentElement;
  const look = () => { if (root.dataset.engine === "ready") ready(); };
  new MutationObserver(look).observe(root, { attributes: true });
  setTimeout(() => reject(new Error(`the sums are ${root.dataset.engine} after a minute`)), 60_000);
  look();
})"""


# A worker that gets the page's requests only once `goOn` is called, while `slow` is set.
SHIMS = """
window.Worker = class extends Worker {
  constructor(...all) { super(...all); window.theWorker = this; this.waiting = []; }
  postMessage(...all) { if (window.slow) this.waiting.push(all); else super.postMessage(...all); }
  goOn() { window.slow = false; for (const all of this.waiting.splice(0)) this.postMessage(...all); }
};
"""


class Waiting:
    """Requests of a page for a file that wait until they are let go; what is asked for later goes on at once."""

    def __init__(self, page: Page, pattern: str) -> None:
        self._waiting: list[Route] = []
        self._open = False
        page.route(pattern, self._hear)

    def _hear(self, route: Route) -> None:
        if self._open:
            route.continue_()
        else:
            self._waiting.append(route)

    def let_go(self) -> None:
        """Let the requests go on, those that are still to come as well."""
        self._open = True
        for route in self._waiting:
            route.continue_()
        self._waiting.clear()


ROWS = ".gear .line:not(.blank):not(.cell)"  # the lines of the gear that are parts
UNFOLD = """place => {
  const line = place.closest(".rows .line");
  if (line && getComputedStyle(line.querySelector(".line-told")).display !== "none") line.dataset.editing = "";
  const panel = place.closest(".panel");
  if (panel) panel.hidden = false;
  for (let fold = place.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
}"""


FOLD = "document.querySelectorAll('[data-editing]').forEach((line) => line.removeAttribute('data-editing'))"


def press(page: Page, what: str) -> None:
    """Click what may be folded away in a menu, a line of the gear or a subject."""
    page.locator(what).first.evaluate(UNFOLD)
    page.locator(what).first.click()
    page.evaluate(FOLD)


def start(page: Page, address: str) -> Page:
    """Open an address and wait until the sums have answered."""
    page.goto(address, wait_until="domcontentloaded")
    page.evaluate(READY)  # the page tells it at once, where looking again and again takes longer
    return page


def headline(page: Page) -> Any:
    """Return the place of the answer's first sentence."""
    return page.locator("#verdict p")


def fill_in(page: Page, entries: dict[str, str]) -> None:
    """Type into fields by their name; open what is folded."""
    for name, text in entries.items():
        field = page.locator(f"[name='{name}']")
        field.evaluate(UNFOLD)
        if field.evaluate("field => field.tagName") == "SELECT":
            field.select_option(text)
        else:
            field.fill(text)
        page.evaluate(FOLD)


def choose_budget(page: Page, name: str) -> None:
    """Choose one of the visitor's budgets by its name; the list tells its date, too."""
    page.select_option("#mine", index=budget_names(page).index(name))


def budget_names(page: Page) -> list[str]:
    """Return what stands in the list of the visitor's budgets, without dates."""
    return [text.rsplit(" (", 1)[0] for text in page.locator("#mine option").all_inner_texts()]
