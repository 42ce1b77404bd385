"""`python -m briefgen.schema` writes the shipped schemas anew, for maintainers."""

from pathlib import Path

from briefgen.schema.content import FILE_NAME, schema_text
from briefgen.schema.results import REHEARSAL_FILE, RESULTS_FILE, rehearsal_schema_text, results_schema_text

SHIPPED = {
    FILE_NAME: schema_text(),
    RESULTS_FILE: results_schema_text(),
    REHEARSAL_FILE: rehearsal_schema_text(),
}
for name, text in SHIPPED.items():
    Path(__file__).with_name(name).write_text(text, encoding="utf-8", newline="\n")
