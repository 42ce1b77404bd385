"""The kinds of questions, one a module. Each gives only what the order of the plan guarantees."""
