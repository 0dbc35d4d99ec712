"""The command page: all of it in a browser."""

import os
import sys
from contextlib import suppress
from pathlib import Path

import click

from salebook.base.words import _
from salebook.commands.options import FOLDER, number_option

MOST_PORTS = 65_535


@click.command()
@click.option(
    "--folder",
    type=FOLDER,
    default=Path("~/salebook"),
    help="Where plans and workbooks lie; made where missing.  [~/salebook]",
)
@number_option("--port", MOST_PORTS, "The port to answer on; 0, or nothing, takes a free one.")
@click.option("--no-browser", is_flag=True, help="Only print the address; open no browser.")
@click.option(
    "--shortcut",
    is_flag=True,
    help="Put a file on the desktop that opens the page with a double click; no more.",
)
def page(folder: Path, *, port: int, no_browser: bool, shortcut: bool) -> None:
    """Do all of it in a browser, on this computer only.

    The address to open is printed; it holds a key, without which nothing is answered. Files are kept in
    FOLDER, as the other commands write them. Ctrl-C ends it, and so does a button on the page.

    \b
    Examples:
      salebook page
      salebook page --shortcut
      salebook page --folder sale --no-browser
    """
    folder = folder.expanduser()
    if shortcut:
        _put_shortcut(folder)
        return
    from salebook.page.server import listen

    server = listen(folder, port=port)
    click.echo(_("salebook answers at {address}").format(address=server.address))
    click.echo(_("Files are kept in {folder}. Ctrl-C ends it.").format(folder=server.folder))
    sys.stdout.flush()
    if not no_browser:
        import webbrowser

        webbrowser.open(server.address)
    with suppress(KeyboardInterrupt):
        server.run()
    click.echo(_("salebook has ended; what was made lies in {folder}.").format(folder=server.folder))


def _put_shortcut(folder: Path) -> None:
    from salebook.jobs.shortcut import desktop_of, put_shortcut

    path = put_shortcut(folder.absolute(), desktop_of(os.environ, Path.home()))
    says = _("Made {file}: a double click opens salebook. Keep this Python where it is: {python}")
    click.echo(says.format(file=path, python=sys.executable))
