"""How far colours stand out from one another, as WCAG 2.2 reckons it."""


def luminance(colour: str) -> float:
    """Return the relative luminance of a colour such as "22313F" (WCAG 2.2, relative luminance)."""
    parts = (int(colour[start : start + 2], 16) / 255 for start in (0, 2, 4))
    linear = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return sum(share * part for share, part in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


def contrast(one: str, other: str) -> float:
    """Return the contrast of two colours, from 1 to 21 (WCAG 2.2, contrast ratio)."""
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)
