"""Thistledown's sums: a radio payload budget for small free-flight model aircraft.

Pure Python; knows neither HTML nor JavaScript nor the visitor's files. Inside, every number is an SI float;
units are read and written at the edge (`calc.units`). `calc.assess.assess` is the one door to the sums.
"""
