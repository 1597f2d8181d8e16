"""https in the house as a page: what to fetch, how to trust it on each kind of phone, and what that means.

Where the settings stand is from memory of phones of 2024 to 2026; the page says what to search for, since they move.
"""

from app.settings import House
from app.web import pages
from app.web.parts import Frame, Link

NOT_SERVED = (
    "This house is not served over https now. Start it with “twelvemonth serve --house --https”, and the certificate"
    " can be fetched here."
)
BEHIND = "Another server stands in front of this house, and speaks https for it: nothing needs to be trusted here."
WHY = (
    "Over https nobody on the Wi-Fi can read or change what goes between a phone and the house, and phones keep the"
    " pages, so that they open behind the barn too. A house has no certificate that the world knows; so it makes its"
    " own, and each phone is told once to trust it."
)
COMPARE = (
    "Before you agree, compare the print that the phone shows with this one, read off the computer that serves the"
    " house, not off the phone."
)
KINDS: tuple[pages.KindSteps, ...] = (
    pages.KindSteps(
        "A phone that speaks of profiles",
        (
            "Open the certificate in the phone’s own browser, and allow the download of a profile.",
            "In the settings, open the downloaded profile (at the top, or under VPN and device management), and"
            " install it.",
            "Then, under General, About, Certificate trust settings, switch on full trust for “Twelvemonth, this house"
            " only”. Without this the first two count for nothing.",
        ),
    ),
    pages.KindSteps(
        "A phone that asks what a certificate is for",
        (
            "Open the certificate; the phone keeps it among its downloads.",
            "Search the settings for “certificate”, choose to install one, of the kind CA, and pick it from the"
            " downloads. The phone wants its lock code, and warns that traffic may be watched: below is what it means.",
            "A browser that keeps certificates of its own needs a switch too: search its settings for “certificate”,"
            " and let it use those that were added to the phone.",
        ),
    ),
    pages.KindSteps(
        "A computer",
        (
            "Save the certificate. In the browser’s settings, under Privacy and security, open its certificates.",
            "Under Authorities, import it, to be trusted for websites and for nothing else.",
        ),
    ),
)
MEANS = (
    "Whoever holds the key of an authority that a phone trusts can pretend, to this phone, to be any site that the"
    " authority may speak for. This one may speak only for names that end in .local, this computer’s own name, and"
    " addresses that are given out inside a house: not for a bank, nor for the post. Phones and browsers of today hold"
    " it to that; a very old one might not look.",
    "The key stays on the computer that serves the house, in the folder of its records, and only its owner can read it."
    " It is in no backup and no export. If the computer is stolen or given away, take the certificate off the phones,"
    " where it was put on.",
    "The certificate is renewed by itself, and the phones need not be touched for it. The authority holds for ten"
    " years.",
)


def https_page(frame: Frame, house: House | None, print_: str) -> pages.Https:
    """The page; ``print_`` is the SHA-256 of the certificate, "" where there is none to fetch."""
    state = "" if print_ else BEHIND if house is not None and house.behind else NOT_SERVED
    onward = (Link("Trusted: go on to the house", f"{house.addresses[0]}/let-in"),) if print_ and house else ()
    return pages.Https(
        frame=frame,
        why=WHY,
        state=state,
        certificate=Link("The certificate of this house", "/house-certificate.crt") if print_ else None,
        print_=print_,
        compare=COMPARE,
        kinds=KINDS if print_ else (),
        means=MEANS,
        onward=onward,
    )
