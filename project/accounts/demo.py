"""Log-ins of the demonstration plant, one per role. They exist only where the demo was loaded."""

from project.accounts.models import Role

DEMO_PASSWORD = "kestrel-reach-demo"
DEMO_LOGINS: tuple[tuple[str, str, str], ...] = tuple((role.value, DEMO_PASSWORD, str(role.label)) for role in Role)
