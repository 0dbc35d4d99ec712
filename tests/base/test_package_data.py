from pathlib import Path

import pytest

from salebook.base.package_data import package_data

ROOT = Path(__file__).parent.parent.parent


@pytest.mark.parametrize(
    ("package", "checkout", "file"),
    [
        ("salebook_templates", "templates", "labels.html"),
        ("salebook_samples", "sample_data", "first-sale.toml"),
    ],
)
@pytest.mark.parametrize("is_installed", [True, False])
def test_the_folder_is_found_installed_and_in_a_checkout(
    package: str, checkout: str, file: str, is_installed: bool
) -> None:
    found = package_data(package if is_installed else "no_such_package", checkout)
    assert (found / file).read_bytes() == (ROOT / checkout / file).read_bytes()
