"""Sheets as text, HTML, CSV and JSON: values in, text out."""

from benchvoice.sheets.render.csv import csv_of
from benchvoice.sheets.render.html import html_of
from benchvoice.sheets.render.json import json_of
from benchvoice.sheets.render.text import text_of

__all__ = ["csv_of", "html_of", "json_of", "text_of"]
