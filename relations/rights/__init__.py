"""Requests, alarms, letting go and handing over."""
