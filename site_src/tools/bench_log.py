"""How long the log of an altimeter takes in the browser, from the file's text to the drawn graph. Never asserted."""

import random
from statistics import median

from playwright.sync_api import Page

ROUNDS = 5
SAMPLES = 10_000

READ = """async ([text]) => {
  document.getElementById("subject-flights").open = true;
  const old = document.querySelector("#log [data-do='log-close']");
  old?.click();
  const began = performance.now();
  const data = new DataTransfer();
  data.items.add(new File([text], "bench.csv"));
  const place = document.querySelector("#subject-flights summary");
  place.dispatchEvent(new DragEvent("drop", { bubbles: true, cancelable: true, dataTransfer: data }));
  const drawn = () => document.querySelector("#log-graph .flight-graph polyline");
  while (!drawn()) await new Promise((done) => requestAnimationFrame(done));
  await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))); // painted
  return performance.now() - began;
}"""
MOVE = """async (at) => {
  const field = document.getElementById("log-top_s");
  const began = performance.now();
  const done = new Promise((resolve) => new MutationObserver((_, watch) => { watch.disconnect(); resolve(); })
    .observe(document.getElementById("log-graph"), { subtree: true, childList: true, attributes: true }));
  field.value = at;
  field.dispatchEvent(new Event("input", { bubbles: true }));
  await done;
  return performance.now() - began;
}"""


def text() -> str:
    """Return a log of 10 000 samples, ten a second: ground, climb, one long glide with noise, ground."""
    rng, rows = random.Random(1), ["Time [s];Height [m]"]
    for number in range(SAMPLES):
        second = number / 10.0
        height = max(0.0, min(2.0 * max(0.0, second - 60.0), 400.0 - 0.6 * max(0.0, second - 260.0)))
        height = height if second > 60.0 else 0.0
        rows.append(f"{second:.1f};{max(0.0, height) + rng.gauss(0.0, 0.1):.2f}")
    return "\n".join(rows)


def measure(page: Page) -> dict[str, float]:
    """Return the median times on a page whose sums have started: file to graph, a border moved to figures."""
    read = [float(page.evaluate(READ, [text()])) for _ in range(ROUNDS)]
    moved = [float(page.evaluate(MOVE, str(200 + 20 * step))) for step in range(ROUNDS)]
    return {"log_10000_samples_to_graph_ms": median(read), "log_border_to_figures_ms": median(moved)}
