"""Eurocode 5 (EN 1995-1-1:2004) with EN 338:2003 strength classes: a second basis.

Solid timber only: bending with lateral buckling, shear, tension, compression with
buckling, their combinations, bearing, notches and creep. The 2008 amendment (cracks in
shear, bearing lengths) and national annexes are not in it.
"""
