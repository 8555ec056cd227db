"""Takes uploads in memory only: a scan must never lie in clear in a temporary folder."""

from io import BytesIO
from typing import Any

from django.conf import settings
from django.core.files.uploadedfile import InMemoryUploadedFile
from django.core.files.uploadhandler import FileUploadHandler
from django.http import HttpRequest


class TooLarge(InMemoryUploadedFile):
    """Stands for an upload beyond the limit: its bytes were let go, only its size is known."""

    is_too_large = True


def is_too_large(upload: object) -> bool:
    """Whether `upload` went beyond the limit, so that its form must say so."""
    return isinstance(upload, TooLarge)


class MemoryOnly(FileUploadHandler):
    """Keeps each file in memory up to `UPLOAD_BYTES`; of a larger one only the fact remains."""

    def __init__(self, request: HttpRequest | None = None) -> None:
        super().__init__(request)
        self._file = BytesIO()
        self._size = 0

    def new_file(self, *args: Any, **kwargs: Any) -> None:
        super().new_file(*args, **kwargs)
        self._file = BytesIO()
        self._size = 0

    def receive_data_chunk(self, raw_data: bytes, start: int) -> None:
        self._size += len(raw_data)
        if self._size <= settings.UPLOAD_BYTES:
            self._file.write(raw_data)
        elif self._file.getbuffer().nbytes:
            self._file = BytesIO()

    def file_complete(self, file_size: int) -> InMemoryUploadedFile:
        self._file.seek(0)
        kind = TooLarge if self._size > settings.UPLOAD_BYTES else InMemoryUploadedFile
        return kind(
            file=self._file,
            field_name=self.field_name,
            name=self.file_name,
            content_type=self.content_type,
            size=file_size,
            charset=self.charset,
            content_type_extra=self.content_type_extra,
        )
