"""Levelwright: settings, addresses, and what every app shares."""
