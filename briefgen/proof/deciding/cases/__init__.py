"""Cases: what is done if a step does not go as planned, each proved as a plan of its own."""
