"""Which files may be attached, told by their first bytes rather than by their name. Pure."""

# Signatures: ISO 32000-1 (PDF header), ISO/IEC 15948 (PNG), ISO/IEC 10918-1 (JPEG start of image).
SIGNATURES = (
    (b"%PDF-", "application/pdf", ".pdf"),
    (b"\x89PNG\r\n\x1a\n", "image/png", ".png"),
    (b"\xff\xd8\xff", "image/jpeg", ".jpg"),
)
LARGEST_BYTES = 10_000_000


class UnacceptableFile(ValueError):
    """A file that may not be attached; says what would be accepted."""


def sniff(data: bytes) -> tuple[str, str]:
    """Content type and file ending of the bytes of a PDF, PNG or JPEG.

    Raises UnacceptableFile for an empty file, one of more than `LARGEST_BYTES`, or any other type.
    """
    if not data:
        raise UnacceptableFile("The file is empty.")
    if len(data) > LARGEST_BYTES:
        raise UnacceptableFile(f"The file is larger than {LARGEST_BYTES // 1_000_000} MB.")
    for signature, content_type, ending in SIGNATURES:
        if data.startswith(signature):
            return content_type, ending
    raise UnacceptableFile("Only PDF files and PNG or JPEG pictures are accepted; this is something else.")
