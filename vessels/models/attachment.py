"""Attachments: what they are in one table, their bytes in another, so that lists never load the bytes."""

import uuid

from django.db import models

from project.rows import PlantRow
from vessels.field_defs import ATTACHMENT_KINDS


class Attachment(PlantRow):
    """A file that belongs to a vessel or a measurement, named by the owner's entity and uid."""

    entity = "attachment"

    owner_entity = models.CharField(max_length=16)
    owner_uid = models.UUIDField(default=uuid.uuid4)
    kind = models.CharField(max_length=16, default="drawing")
    title = models.CharField(max_length=120, blank=True)
    file_name = models.CharField(max_length=120)
    content_type = models.CharField(max_length=40)
    size = models.PositiveIntegerField()
    sha256 = models.CharField(max_length=64)

    class Meta:
        ordering = ["id"]
        indexes = [models.Index(fields=["owner_uid"], name="attachment_of_owner")]

    def __str__(self) -> str:
        return self.title or self.file_name

    @property
    def kind_label(self) -> str:
        return dict(ATTACHMENT_KINDS).get(self.kind, self.kind)

    @property
    def size_kb(self) -> str:
        return f"{max(1, round(self.size / 1000))}"

    @property
    def safe_name(self) -> str:
        """The file's name in plain ASCII, for a header."""
        return "".join(one if one.isascii() and (one.isalnum() or one in "-_.") else "_" for one in self.file_name)


class AttachmentBytes(models.Model):
    """The bytes of an attachment, written once."""

    attachment = models.OneToOneField(Attachment, on_delete=models.CASCADE, related_name="content")
    data = models.BinaryField()

    def __str__(self) -> str:
        return f"{self.attachment_id}"
