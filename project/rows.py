"""What every kept row has: a uid for the outside, a version against lost edits, details, history, a plant."""

import uuid
from typing import TYPE_CHECKING, Any, ClassVar, Self

from django.db import models
from simple_history.models import HistoricalRecords

from project.history import ActionStamp
from project.quantities import MISSING, Quantity
from project.registry import REGISTRY, FieldDef

if TYPE_CHECKING:
    from project.accounts.models import User
    from vessels.models import Plant


class KeptQuerySet(models.QuerySet):
    """Rows of plants; screens start from `visible_to`."""

    def visible_to(self, user: "User") -> Self:
        """Rows of the plants that a user is a member of."""
        return self.filter(plant__memberships__user=user).distinct()


class KeptRow(models.Model):
    """A row with an identity, a version and a history. `entity` names its fields in the registry."""

    entity: ClassVar[str] = ""
    uid = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    version = models.PositiveIntegerField(default=1)
    # Fields without a column of their own, {stem: text as typed}: see `stored` in the registry.
    details = models.JSONField(default=dict, blank=True)

    history = HistoricalRecords(
        bases=[ActionStamp], history_user_id_field=models.BigIntegerField(null=True), inherit=True
    )

    class Meta:
        abstract = True

    @classmethod
    def field_defs(cls) -> tuple[FieldDef, ...]:
        """The registry's fields of this entity."""
        return REGISTRY.of(cls.entity)

    def value(self, definition: FieldDef) -> Any:
        """The kept value of a field: a Quantity, a row (link), or a text."""
        if definition.stored == "details":
            kept = self.details.get(definition.stem)
            if definition.is_quantity:
                return Quantity(kept["typed"], kept["si"]) if kept else MISSING
            return kept if kept is not None else ""
        if definition.is_quantity:
            return Quantity(getattr(self, f"{definition.stem}_typed"), getattr(self, f"{definition.stem}_si"))
        return getattr(self, definition.stem)

    def quantity(self, stem: str) -> Quantity:
        """The quantity under a stem."""
        value = self.value(REGISTRY[f"{self.entity}.{stem}"])
        if not isinstance(value, Quantity):
            raise TypeError(f"{self.entity}.{stem} is not a quantity")
        return value

    def assign(self, definition: FieldDef, value: Any) -> None:
        """Put a value into its column, its two columns, or the details. The one place that writes quantities."""
        if definition.stored == "details":
            empty = value is None or value == "" or value == MISSING
            if empty:
                self.details.pop(definition.stem, None)
            else:
                kept = {"typed": value.typed, "si": value.si} if isinstance(value, Quantity) else value
                self.details[definition.stem] = kept
        elif definition.is_quantity:
            if not isinstance(value, Quantity):
                raise TypeError(f"{definition.key}: a Quantity is wanted, not {value!r}")
            setattr(self, f"{definition.stem}_typed", value.typed)
            setattr(self, f"{definition.stem}_si", value.si)
        else:
            setattr(self, definition.stem, value)

    def case_values(self) -> dict[str, Any]:
        """Values by stem as a Case holds them: quantities, texts, and the uid of linked rows."""
        values: dict[str, Any] = {}
        for definition in self.field_defs():
            if definition.kind == "link":
                linked = getattr(self, definition.stem, None)
                values[definition.stem] = str(linked.uid) if linked is not None else ""
            else:
                values[definition.stem] = self.value(definition)
        return values


class PlantRow(KeptRow):
    """A row that belongs to a plant."""

    plant = models.ForeignKey("vessels.Plant", on_delete=models.PROTECT, related_name="+")

    objects = KeptQuerySet.as_manager()

    class Meta:
        abstract = True

    def owning_plant(self) -> "Plant":
        return self.plant
