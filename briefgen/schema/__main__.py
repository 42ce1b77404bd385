"""`python -m briefgen.schema` writes the shipped schema anew, for maintainers."""

from pathlib import Path

from briefgen.schema.content import FILE_NAME, schema_text

Path(__file__).with_name(FILE_NAME).write_text(schema_text(), encoding="utf-8", newline="\n")
