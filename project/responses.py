"""Files as answers: under a plain ASCII name, because tags may hold what a header or a file system would not take."""

from django.http import HttpResponse

PDF = "application/pdf"
CSV = "text/csv; charset=utf-8"
XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
_ENDINGS = {PDF: "pdf", CSV: "csv", XLSX: "xlsx"}


def file_response(data: bytes, content_type: str, name: str) -> HttpResponse:
    """A file under a name without its ending: a PDF is shown in place, anything else is downloaded."""
    plain = "".join(one if one.isascii() and (one.isalnum() or one in "-_") else "_" for one in name)
    response = HttpResponse(data, content_type=content_type)
    way = "inline" if content_type == PDF else "attachment"
    response["Content-Disposition"] = f'{way}; filename="{plain}.{_ENDINGS[content_type]}"'
    response["X-Content-Type-Options"] = "nosniff"
    return response
