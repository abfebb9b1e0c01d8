"""Explainers: the roof bent, story boards, the load on its way, film and web page."""
