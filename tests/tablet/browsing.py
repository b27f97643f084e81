"""A real browser on the page: started once, told to fetch nothing, asked what it shows."""

from __future__ import annotations

import json
import os
import shutil
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from selenium import webdriver
from selenium.webdriver.chrome.service import Service
from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.by import By
from selenium.webdriver.remote.webelement import WebElement
from selenium.webdriver.support.wait import WebDriverWait

# As root it needs no sandbox; the rest keeps it from asking anything of any network.
_SWITCHES = (
    "--headless=new",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-dev-shm-usage",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--window-size=800,1280",
)
_PATIENCE = 10  # seconds


def started(folder: Path) -> webdriver.Chrome:
    """Start the browser of this machine; without one the tests are skipped, but never in CI."""
    browser, driver = shutil.which("chromium"), shutil.which("chromedriver")
    if browser is None or driver is None:
        reason = "no Chromium here (Debian: apt install chromium chromium-driver)"
        if os.environ.get("CI"):
            pytest.fail(f"{reason}: the tablet page was not tried")
        pytest.skip(reason)
    options = webdriver.ChromeOptions()
    options.binary_location = browser
    for switch in (*_SWITCHES, f"--user-data-dir={folder / 'profile'}"):
        options.add_argument(switch)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
    return webdriver.Chrome(options=options, service=Service(driver))


@dataclass
class Screen:
    """The page in the browser."""

    driver: webdriver.Chrome
    downloads: Path

    def open(self, page: Path, who: str = "") -> None:
        """Open a page as if for the first time on this machine, or as somebody known to it."""
        if self.driver.current_url != page.as_uri():
            self.driver.get(page.as_uri())
        self.run(
            """localStorage.clear();
            const key = `sequencer ${Page.bench.data.fingerprint} now`;
            const [who] = arguments;
            if (who) localStorage.setItem(key, JSON.stringify({ who, unit: "" }));""",
            who,
        )
        self.driver.refresh()

    def say_who(self, initials: str = "AB", unit: str = "") -> None:
        self.one("#who-initials").send_keys(initials)
        self.one("#who-unit").send_keys(unit)
        self.one("#who-form [type=submit]").click()

    def one(self, selector: str) -> WebElement:
        return self.driver.find_element(By.CSS_SELECTOR, selector)

    def all(self, selector: str) -> list[WebElement]:
        return self.driver.find_elements(By.CSS_SELECTOR, selector)

    def text(self, selector: str) -> str:
        return self.one(selector).text

    def tap(self, selector: str) -> None:
        element = self.one(selector)
        self.run("arguments[0].scrollIntoView({block: 'center', behavior: 'instant'})", element)
        element.click()

    def tick(self, number: int) -> None:
        self.tap(f"#step-{number} .tick")

    def type(self, selector: str, text: str) -> None:
        """Type into a field and press Enter."""
        element = self.one(selector)
        self.run("arguments[0].scrollIntoView({block: 'center', behavior: 'instant'})", element)
        element.send_keys(text + "\n")

    def isolate(self) -> None:
        """Sign for the only point of isolation."""
        for stage in (1, 2):
            self.type(f"#isolation-1-{stage}", "I. Lock")

    def keys(self, *keys: str) -> None:
        ActionChains(self.driver).send_keys(*keys).perform()

    def run(self, script: str, *values: object) -> Any:
        return self.driver.execute_script(script, *values)

    def waits_for(self, selector: str, text: str) -> None:
        """Wait until something says a text: files are read while the page goes on."""
        WebDriverWait(self.driver, _PATIENCE, 0.05).until(lambda _: self.text(selector) == text)

    def is_done(self, number: int) -> bool:
        return self.one(f"#step-{number} .tick").get_attribute("aria-pressed") == "true"

    def saved(self) -> Path:
        """Make the export, save it, and return the file once it is there whole.

        Two exports within a second have the same name: the later one stands in for the other.
        """
        self.tap("#export")
        lines = self.one("#lines").get_attribute("value")
        self.tap("#download")
        found: list[Path] = WebDriverWait(self.driver, _PATIENCE, 0.05).until(
            lambda _: [file for file in self.downloads.glob("*.jsonl") if _text(file) == lines]
        )
        return found[0]

    def complaints(self) -> list[str]:
        """Return what the browser's console has said since it was asked last."""
        return [str(one["message"]) for one in _log_of(self.driver, "browser")]

    def requests(self) -> set[str]:
        """Return by which schemes pages that are files have asked for anything."""
        told = [
            json.loads(one["message"])["message"] for one in _log_of(self.driver, "performance")
        ]
        urls = [one["params"]["request"]["url"] for one in told if _is_request(one)]
        return {url.partition(":")[0] for url in urls}

    def controls(self) -> list[tuple[str, str]]:
        """Return the role and the name of everything that can be operated, as told to people."""
        tree = self.driver.execute_cdp_cmd("Accessibility.getFullAXTree", {})
        return [
            (node["role"]["value"], node.get("name", {}).get("value", ""))
            for node in tree["nodes"]
            if not node["ignored"] and _is_focusable(node)
        ]


def _text(file: Path) -> str:
    return file.read_text(encoding="utf-8")


def _log_of(driver: webdriver.Chrome, kind: str) -> list[dict[str, str]]:
    told: list[dict[str, str]] = driver.get_log(kind)  # type: ignore[no-untyped-call]  # selenium's
    return told


def _is_request(told: dict[str, Any]) -> bool:
    is_sent = told["method"] == "Network.requestWillBeSent"
    return is_sent and str(told["params"]["documentURL"]).startswith("file:")


def _is_focusable(node: dict[str, Any]) -> bool:
    about = {one["name"]: one["value"].get("value") for one in node.get("properties", ())}
    return bool(about.get("focusable")) and node["role"]["value"] != "RootWebArea"
