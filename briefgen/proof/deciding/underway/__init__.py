"""The day as it goes: what follows when the clock and the last finished steps are other than planned."""
