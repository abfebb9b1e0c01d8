"""NDS 2018 (allowable stress design), clause by clause.

Incising (4.3.8, C_i) and temperature (2.3.3, C_t) are 1.0 throughout: roof lumber is
not incised, and no attic here is taken to stay above 100 F for long. A basis for
other cases would add them. Fire-retardant treatment is not covered (2.3.4 leaves its
values to the maker).
"""
