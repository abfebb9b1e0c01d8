"""The machinery of build.py: interpreters, environment, test suite, extension archive.

Standard library only; it knows where the project's parts are and imports none of them.
"""
