"""Sheets: values to drawings and pages to print."""
