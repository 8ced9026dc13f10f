"""Find a Chromium for the browser tests, or bring one."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

from site_src.tools.environment import SetupError

COMMANDS = (
    "chromium",
    "chromium-browser",
    "google-chrome",
    "google-chrome-stable",
    "chrome",
    "microsoft-edge",
    "msedge",
)
PLACES = (
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
    r"C:\Program Files\Google\Chrome\Application\chrome.exe",
    r"C:\Program Files (x86)\Google\Chrome\Application\chrome.exe",
    r"C:\Program Files (x86)\Microsoft\Edge\Application\msedge.exe",
)
DOWNLOAD_SECONDS = 240
CONNECTION_MILLISECONDS = "10000"  # where there is no way to the download, give it up soon
ASK_PLAYWRIGHT = """
from playwright.sync_api import sync_playwright
with sync_playwright() as playwright:
    print(playwright.chromium.executable_path)
"""
# Playwright's own list, which a second --disable-features would replace, and two hidden pages that Chromium starts with
# each window for its address line: a third of what opening a page costs. Names it does not know do no harm.
NOT_WANTED = (
    "AvoidUnnecessaryBeforeUnloadCheckSync", "DestroyProfileOnBrowserClose", "HttpsUpgrades",
    "HttpsFirstBalancedModeAutoEnable", "LensOverlay", "MediaRouter", "PaintHolding", "ThirdPartyStoragePartitioning",
    "AvoidCorsURLLoaderRestartOnRedirect", "TcpPortRandomizationWin", "OptimizationHints",
    "NetworkTimeServiceQuerying", "AimEnabled", "PreconnectToSearch", "msForceBrowserSignIn",
    "msEdgeUpdateLaunchServicesPreferredVersion", "WebUIOmniboxPopup", "WebUIOmniboxAimPopup",
)  # fmt: skip
APT = ["apt-get", "-y", "-qq", "-o", "DPkg::Lock::Timeout=120"]


def find() -> Path | None:
    """Return an installed Chromium, Chrome or Edge, or one that Playwright brought; None if there is none.

    Raises
    ------
    SetupError
        If THISTLEDOWN_CHROMIUM names something that is not a file.
    """
    chosen = os.environ.get("THISTLEDOWN_CHROMIUM")
    if chosen:
        if not Path(chosen).is_file():
            raise SetupError(f"THISTLEDOWN_CHROMIUM is {chosen}, which is not a file: name a browser, or unset it.")
        return Path(chosen)
    for command in COMMANDS:
        found = shutil.which(command)
        if found:
            return Path(found)
    return next((Path(place) for place in PLACES if Path(place).is_file()), None) or _playwrights_own()


def _playwrights_own() -> Path | None:
    # In a process of its own: Playwright cannot be started a second time inside a running one, as in the tests.
    done = subprocess.run([sys.executable, "-c", ASK_PLAYWRIGHT], capture_output=True, text=True, check=False)
    path = Path(done.stdout.strip())
    return path if path.is_file() else None


def ensure() -> Path:
    """Return a Chromium, fetching one where there is none.

    Raises
    ------
    SetupError
        If none can be brought.
    """
    found = find()
    if found is None:
        print("No Chromium here; fetching one (once) …", flush=True)
        _download()
        found = find()
    if found is None:
        _from_the_system()
        found = find()
    if found is None:
        raise SetupError("The browser tests need Chromium, Chrome or Edge: install one, or set THISTLEDOWN_CHROMIUM.")
    return found


def _download() -> None:
    """Try Playwright's own download; whether it worked shows in `find`."""
    command = [sys.executable, "-m", "playwright", "install", "chromium"]
    try:
        environment = {**os.environ, "PLAYWRIGHT_DOWNLOAD_CONNECTION_TIMEOUT": CONNECTION_MILLISECONDS}
        subprocess.run(command, capture_output=True, timeout=DOWNLOAD_SECONDS, check=False, env=environment)
    except subprocess.TimeoutExpired:
        return


def _from_the_system() -> None:
    """Try the system's package manager, where this user may."""
    if shutil.which("apt-get") is None or not hasattr(os, "geteuid") or os.geteuid() != 0:
        return
    environment = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    for command in ([*APT, "update"], [*APT, "install", "--no-install-recommends", "chromium", "fonts-dejavu-core"]):
        subprocess.run(command, capture_output=True, env=environment, check=False)


def launch_arguments() -> list[str]:
    """Return Chromium's arguments for tests: quiet, and without its sandbox only where root leaves no choice."""
    arguments = [
        "--disable-background-networking", "--disable-component-update", "--disable-sync", "--no-first-run",
        "--disable-quic", "--disable-features=" + ",".join(NOT_WANTED),
    ]  # fmt: skip
    as_root = hasattr(os, "geteuid") and os.geteuid() == 0
    return [*arguments, "--no-sandbox"] if as_root else arguments
