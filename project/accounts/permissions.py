"""The permission table: which roles may do what in a plant. What is not listed is denied.

Each view names one permission of this table (see `access.py`); a test goes through every role and every view.
"""

from project.accounts.models import Role

EVERYBODY = frozenset(Role)
_ORIGINATE = frozenset({Role.ORIGINATOR})
_ENGINEER = frozenset({Role.ORIGINATOR, Role.PROCESS})
_ADMINISTER = frozenset({Role.ADMINISTRATOR})

PERMISSIONS: dict[str, frozenset[Role]] = {
    "plant.view": EVERYBODY,
    "plant.change": _ADMINISTER,
    "unit.view": EVERYBODY,
    "unit.change": _ORIGINATE | _ADMINISTER,
    "medium.view": EVERYBODY,
    "medium.change": _ENGINEER,
    "vessel.view": EVERYBODY,
    "vessel.change": _ENGINEER,
    "nozzle.view": EVERYBODY,
    "nozzle.change": _ENGINEER,
    "tag.view": EVERYBODY,
    "tag.change": _ORIGINATE,
    "measurement.view": EVERYBODY,
    "measurement.change": _ORIGINATE,
    "finding.accept": _ORIGINATE,
    "sensor_class.view": EVERYBODY,
    "sensor_class.change": _ORIGINATE,
    "datasheet.view": EVERYBODY,
    "attachment.view": EVERYBODY,
    "attachment.change": _ENGINEER,
}

# What does not happen inside a plant.
ANYBODY_LOGGED_IN = "anybody.logged_in"
CREATE_PLANT = "plant.create"


def may(roles: frozenset[Role], permission: str) -> bool:
    """True if one of the roles holds the permission. An unknown permission is denied."""
    return bool(PERMISSIONS.get(permission, frozenset()) & roles)


def roles_that_may(permission: str) -> list[Role]:
    """The roles that hold a permission, in the order of `Role`."""
    return [role for role in Role if role in PERMISSIONS.get(permission, frozenset())]
