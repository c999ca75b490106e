"""Key press on a slider to the new picture in the browser, beside the same picture by matplotlib inline.

Run by hand: ``python tests/studies/benchmark_slider.py [presses]``. Starts JupyterLab in a folder of its
own and a headless Chromium, shows the live picture of two saturation curves and the same one drawn by
matplotlib in an ``interact`` cell, presses an arrow key again and again on each in turn, and measures in
the page from the key's own time stamp to the first frame after the new picture is in place. Both ways share
one server with `coldbench.quick_connection`. Prints the
figures and keeps them, with the commit, in ``benchmark_slider.txt`` beside this file.
Aims: median at most 0.30 of matplotlib's, 95 of 100 presses within 100 ms.
"""

from __future__ import annotations

import platform
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path

import nbformat
from playwright.sync_api import Page

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE.parent))

from chromium import chromium, new_page  # noqa: E402
from served import QUICK, served  # noqa: E402

OURS = """from coldbench.lesson import lesson_01
lesson_01.pressure_follows_temperature()"""

THEIRS = """%matplotlib inline
import ipywidgets
import matplotlib.pyplot as plt
from coldbench.properties.refrigerant import saturation_pressure
from coldbench.units import from_si, to_si
def psia(refrigerant, fahrenheit):
    return from_si(saturation_pressure(refrigerant, to_si(fahrenheit, "degF")), "psia")
def draw(coil=20):
    plt.figure(figsize=(6.4, 4.0))
    for refrigerant, dashes, shape in (("R-134a", "-", "o"), ("R-600a", "--", "s")):
        plt.plot(range(-40, 41), [psia(refrigerant, t) for t in range(-40, 41)], dashes, label=refrigerant)
        plt.plot([coil], [psia(refrigerant, coil)], shape)
    plt.axvline(coil, linestyle=":"); plt.axhspan(0, 14.7, alpha=0.1); plt.grid(); plt.legend()
    plt.xlabel("Temperature at which it boils (°F)"); plt.ylabel("Absolute pressure (psia)"); plt.show()
ipywidgets.interact(draw, coil=ipywidgets.IntSlider(20, -40, 40));"""

MEASURE = """([handle, place, picture]) => {
  const target = document.querySelector(handle);
  target.dataset.lmSuppressShortcuts = "true";
  target.focus();
  window.took = [];
  let pressed = null;
  let before = null;
  window.stopMeasuring?.();
  const key = (event) => { pressed = event.timeStamp; before = mark(now()); };
  target.addEventListener("keydown", key, true);
  const now = () => document.querySelector(`${place} ${picture}`);
  const mark = (shown) => shown.src ?? shown.outerHTML;
  const watcher = new MutationObserver(async () => {
    const shown = now();
    if (pressed === null || !shown || mark(shown) === before) return;
    const start = pressed;
    pressed = null;
    before = mark(shown);
    if (shown.decode) await shown.decode().catch(() => {});
    requestAnimationFrame(() => setTimeout(() => window.took.push(performance.now() - start), 0));
  });
  watcher.observe(document.querySelector(place), { childList: true, subtree: true, attributes: true });
  window.stopMeasuring = () => {
    watcher.disconnect();
    target.removeEventListener("keydown", key, true);
  };
}"""

WAYS = {
    "live picture (SVG text)": ('.coldbench input[type="range"]', ".coldbench-picture", "svg"),
    "matplotlib inline": (".widget-slider .noUi-handle", ".widget-interact .jp-OutputArea", "img"),
}


def presses(page: Page, way: tuple[str, str, str], count: int) -> list[float]:
    """Press arrow keys one after the other; give the milliseconds from each press to its picture."""
    page.evaluate(MEASURE, list(way))
    for number in range(count):
        page.keyboard.press("ArrowRight" if number % 2 == 0 else "ArrowLeft")
        page.wait_for_function(f"window.took.length > {number}", timeout=10_000)
        page.wait_for_timeout(30)
    return page.evaluate("window.took")


def measure(count: int) -> dict[str, list[float]]:
    """Open both pictures in one notebook and press keys on each in turn."""
    notebook = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(code) for code in (OURS, THEIRS)])
    notebook.metadata["kernelspec"] = {"display_name": "Python 3", "language": "python", "name": "python3"}
    took: dict[str, list[float]] = {name: [] for name in WAYS}
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as folder:
        nbformat.write(notebook, Path(folder) / "both.ipynb")
        with served("lab", Path(folder), *QUICK) as address, chromium() as browser:
            page = new_page(browser, height=1600)
            page.goto(f"{address}/lab/tree/both.ipynb?reset")
            page.get_by_text("Python 3 (ipykernel) | Idle").wait_for()
            page.wait_for_timeout(1_000)
            page.click('.lm-MenuBar-itemLabel:text-is("Run")')
            page.click('.lm-Menu-itemLabel:text-is("Run All Cells")')
            page.wait_for_selector(".widget-interact img")
            page.wait_for_selector(".coldbench-picture svg")
            page.wait_for_timeout(2_000)
            for _ in range(4):
                for name, way in WAYS.items():
                    took[name] += presses(page, way, count // 4)[3:]  # the first three warm up
    return took


def main() -> None:
    """Measure, print, and keep the figures."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    took = measure(count)
    commit = subprocess.run(
        ["git", "rev-parse", "--short", "HEAD"], capture_output=True, text=True, cwd=HERE, check=False
    )
    lines = [
        f"Key press to new picture, ms. Commit {commit.stdout.strip()}, Python {platform.python_version()}."
    ]
    for name, times in took.items():
        p95 = statistics.quantiles(times, n=20)[-1]
        lines.append(
            f"{name:24}  presses {len(times):4}  median {statistics.median(times):6.1f}  p95 {p95:6.1f}"
            f"  longest {max(times):6.1f}"
        )
    ours, theirs = (statistics.median(times) for times in took.values())
    lines.append(f"ratio of medians {ours / theirs:.3f} (aim 0.30 or less); p95 aim 100 ms")
    text = "\n".join(lines)
    print(text)
    (HERE / "benchmark_slider.txt").write_text(text + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
