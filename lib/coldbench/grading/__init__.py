"""The instructor's evening: hand-out, isolation, marking, feedback, class report."""
