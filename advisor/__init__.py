"""A rule-based adviser on heating and hot-water layouts for UK homes."""

__version__ = "0.1.0"
