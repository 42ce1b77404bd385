"""`python -m briefgen` is the command."""

from briefgen.cli import main

raise SystemExit(main())
