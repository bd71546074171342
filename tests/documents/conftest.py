"""Sheets drawn once for all tests that read them."""

import pytest

from tests.documents.sheet_samples import SAMPLES, pdf_of


@pytest.fixture(scope="session")
def sheets() -> dict[str, bytes]:
    return {name: pdf_of(sample()) for name, sample in SAMPLES.items()}
