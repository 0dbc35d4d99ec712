"""From one plan to a charity sale of handmade pieces: workbook, labels, prints and accounts."""

__version__ = "0.1.0"
