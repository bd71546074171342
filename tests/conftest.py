"""Fixtures that many tests share."""

from typing import Any

import pytest
from django.test import Client

from project.accounts.models import Role, User
from tests.factories import make_plant, make_user
from vessels.models import Plant


@pytest.fixture
def originator(db: Any) -> User:
    return make_user("the-originator", can_create_plants=True)


@pytest.fixture
def plant(originator: User) -> Plant:
    """A plant in which the originator is originator, process engineer and administrator."""
    return make_plant("TP", members={originator: (Role.ORIGINATOR, Role.PROCESS, Role.ADMINISTRATOR)})


@pytest.fixture
def logged_in(client: Client, originator: User) -> Client:
    client.force_login(originator)
    return client
