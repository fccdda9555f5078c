"""Benchmarks: how good and how fast the measuring parts are, on simulated material made from seeds."""
