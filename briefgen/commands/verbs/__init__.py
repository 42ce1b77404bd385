"""One verb a module, found by being there: `add(commands)` describes it, its `run` hands over."""
