"""Reading forms off pages and sending them back, as a browser does."""

from html.parser import HTMLParser
from typing import Any

from django.test import Client


class _Forms(HTMLParser):
    """Collects the fields of the form that has a save button, with the values a browser would send."""

    def __init__(self) -> None:
        super().__init__()
        self.values: dict[str, str] = {}
        self._select = ""
        self._first_option = True
        self._textarea = ""
        self._inside = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        have = dict(attrs)
        name = have.get("name") or ""
        if tag == "form":
            self._inside = (have.get("method") or "") == "post" and "who" not in (have.get("class") or "")
        if not self._inside:
            return
        if tag == "input" and name and have.get("type") not in ("checkbox", "submit"):
            self.values[name] = have.get("value") or ""
        elif tag == "select":
            self._select, self._first_option = name, True
        elif tag == "option" and self._select:
            if self._first_option or "selected" in have:
                self.values[self._select] = have.get("value") or ""
            self._first_option = False
        elif tag == "textarea":
            self._textarea = name
            self.values[name] = ""

    def handle_endtag(self, tag: str) -> None:
        if tag == "select":
            self._select = ""
        elif tag == "textarea":
            self._textarea = ""
        elif tag == "form":
            self._inside = False

    def handle_data(self, data: str) -> None:
        if self._textarea:
            self.values[self._textarea] += data.removeprefix("\n")


def values_of(page: str) -> dict[str, str]:
    """The values of the form on a page."""
    parser = _Forms()
    parser.feed(page)
    return parser.values


def form_values(client: Client, url: str) -> dict[str, str]:
    """The values of the form at an address, ready to be changed and posted."""
    response = client.get(url)
    assert response.status_code == 200, response.status_code
    return values_of(response.content.decode())


def send(client: Client, url: str, **changes: str) -> Any:
    """Open a form, change fields (write "tag__service" for "tag-service"), post it."""
    values = form_values(client, url) | {name.replace("__", "-"): text for name, text in changes.items()}
    return client.post(url, values)
