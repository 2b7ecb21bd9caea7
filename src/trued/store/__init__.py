"""The book: values to rows and back."""
