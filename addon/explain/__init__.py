"""Explainers: the roof bent, story boards, the load on its way, film and web page."""


def register() -> None:
    """Register operators, panel and command of the explainers."""
    from . import cli, operators, panel

    operators.register()
    panel.register()
    cli.register()


def unregister() -> None:
    """Take them out again."""
    from . import cli, operators, panel

    cli.unregister()
    panel.unregister()
    operators.unregister()
