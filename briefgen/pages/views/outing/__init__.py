"""Pages of an outing: overview, sorties, tasks, people, timelines."""
