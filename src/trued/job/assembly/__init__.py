"""Jobs written as whole pieces: a few sizes and the joints, from which come the parts and the fits."""
