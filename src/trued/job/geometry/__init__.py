"""What a fit is made of: sizes, errors, the kinds of piece and the places where it must hold."""
