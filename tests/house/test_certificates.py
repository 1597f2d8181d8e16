"""The house's certificate, against RFC 5280 and two that did not make it: OpenSSL's command and Python's ssl."""

import shutil
import socket
import ssl
import stat
import subprocess
import threading
from datetime import UTC, datetime, timedelta
from ipaddress import ip_address
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID

from app.certificates import LEAF_DAYS, certify
from app.errors import DataFolderError
from app.serving_https import Tls

NOW = datetime.now(UTC).replace(microsecond=0)
NAMES = ("Barn", "barn.local", "localhost", "127.0.0.1", "192.168.1.20", "fd00::20", "::1")


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("certificates") / "https"
    certify(folder, NAMES, NOW)
    return folder


def leaf(folder: Path) -> x509.Certificate:
    return x509.load_pem_x509_certificate((folder / "house.pem").read_bytes())


def root(folder: Path) -> x509.Certificate:
    return x509.load_der_x509_certificate((folder / "house-certificate.crt").read_bytes())


@pytest.mark.published
def test_the_certificate_is_what_phones_take(made: Path) -> None:
    # RFC 5280, 4.2.1.6 and 4.2.1.12; RFC 5480 (P-256). 397 days at most: from memory, what phones and browsers take.
    one = leaf(made)
    names = one.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    assert set(names.get_values_for_type(x509.DNSName)) == {"barn", "barn.local", "localhost"}
    numbers = {"127.0.0.1", "192.168.1.20", "fd00::20", "::1"}
    assert set(names.get_values_for_type(x509.IPAddress)) == {ip_address(number) for number in numbers}
    usage = one.extensions.get_extension_for_class(x509.ExtendedKeyUsage).value
    assert list(usage) == [ExtendedKeyUsageOID.SERVER_AUTH]
    assert one.not_valid_after_utc - one.not_valid_before_utc <= timedelta(days=397)
    assert one.not_valid_before_utc < NOW
    assert one.signature_hash_algorithm is not None
    assert one.signature_hash_algorithm.name == "sha256"
    assert isinstance(one.public_key(), ec.EllipticCurvePublicKey)
    assert one.public_key().curve.name == "secp256r1"  # type: ignore[union-attr]


@pytest.mark.published
def test_the_authority_speaks_for_the_house_alone(made: Path) -> None:
    # RFC 5280, 4.2.1.9 (path length), 4.2.1.10 (name constraints, critical); RFC 1918 and RFC 4193 (the blocks).
    one = root(made)
    basic = one.extensions.get_extension_for_class(x509.BasicConstraints)
    assert (basic.critical, basic.value.ca, basic.value.path_length) == (True, True, 0)
    held = one.extensions.get_extension_for_class(x509.NameConstraints)
    assert held.critical
    permitted = {str(tree.value) for tree in held.value.permitted_subtrees or ()}
    assert {"local", "localhost", "barn"} <= permitted
    assert {"10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "fc00::/7"} <= permitted
    assert "0.0.0.0/0" not in permitted
    assert one.not_valid_after_utc - one.not_valid_before_utc > timedelta(days=3650)


def test_the_keys_are_the_owners_alone_and_what_is_given_out_holds_none(made: Path) -> None:
    for name in ("authority.pem", "house.pem"):
        assert stat.S_IMODE((made / name).stat().st_mode) == 0o600
    assert stat.S_IMODE(made.stat().st_mode) == 0o700
    given = (made / "house-certificate.crt").read_bytes()
    assert b"PRIVATE" not in given
    assert b"PRIVATE" in (made / "authority.pem").read_bytes()
    served = (made / "house.pem").read_text()
    assert served.count("BEGIN CERTIFICATE") == 1, "the authority's key and certificate are not served"


@pytest.mark.skipif(not shutil.which("openssl"), reason="there is no openssl command here")
@pytest.mark.parametrize("name", ["barn.local", "barn"])
def test_openssl_finds_it_sound(made: Path, tmp_path: Path, name: str) -> None:
    # Independent of what made it: -x509_strict holds it to RFC 5280.
    ca = tmp_path / "root.pem"
    ca.write_text(ssl.DER_cert_to_PEM_cert((made / "house-certificate.crt").read_bytes()))
    said = subprocess.run(
        [
            "openssl", "verify", "-x509_strict", "-purpose", "sslserver", "-verify_hostname", name, "-CAfile", str(ca),
            str(made / "house.pem"),
        ],
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert said.returncode == 0, said.stdout + said.stderr


def _shaken(context: ssl.SSLContext, ca: Path, name: str) -> bytes:
    """The certificate that a client which trusts the authority is shown, after a handshake under a name."""
    ours, theirs = socket.socketpair()
    client = ssl.create_default_context(cadata=ca.read_bytes())

    def answer() -> None:
        try:
            context.wrap_socket(ours, server_side=True).close()
        except (ssl.SSLError, OSError):
            ours.close()

    thread = threading.Thread(target=answer)
    thread.start()
    try:
        with client.wrap_socket(theirs, server_hostname=name) as shaken:
            return shaken.getpeercert(binary_form=True) or b""
    finally:
        theirs.close()
        thread.join()


def _context(pem: Path) -> ssl.SSLContext:
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(pem)
    return context


@pytest.mark.parametrize("name", ["barn.local", "192.168.1.20", "fd00::20", "localhost"])
def test_a_client_that_trusts_the_authority_is_content(made: Path, name: str) -> None:
    assert _shaken(_context(made / "house.pem"), made / "house-certificate.crt", name)


@pytest.mark.published
def test_a_stolen_key_can_be_no_bank(made: Path, tmp_path: Path) -> None:
    # RFC 5280, 4.2.1.10: a certificate outside the permitted names is not valid, whoever signed it.
    from app import certificates

    kept = certificates._kept(made / "authority.pem")
    assert kept is not None
    for name in ("bank.example", "203.0.113.7"):
        forged = tmp_path / "forged.pem"
        forged.write_bytes(certificates._pem(certificates._leaf(kept, [name], NOW)))
        with pytest.raises(ssl.SSLCertVerificationError, match="permitted subtree"):
            _shaken(_context(forged), made / "house-certificate.crt", name)


def test_it_stays_as_long_as_it_will_do(made: Path) -> None:
    before = leaf(made).serial_number
    again = certify(made, NAMES[::-1], NOW + timedelta(days=LEAF_DAYS - 33))
    assert (again.number, again.new_authority, again.left_out) == (before, False, ())


@pytest.mark.parametrize(
    ("names", "later"),
    [(NAMES, timedelta(days=LEAF_DAYS - 29)), ((*NAMES, "192.168.1.21"), timedelta()), (NAMES[:-1], timedelta())],
)
def test_it_is_made_anew_before_its_end_and_when_a_name_or_address_changes(
    made: Path, tmp_path: Path, names: tuple[str, ...], later: timedelta
) -> None:
    folder = shutil.copytree(made, tmp_path / "https")
    again = certify(folder, names, NOW + later)
    assert again.number != leaf(made).serial_number
    assert not again.new_authority, "the phones keep trusting it"
    leaf(folder).verify_directly_issued_by(root(made))


def test_names_beyond_the_authority_are_left_out_and_said(made: Path, tmp_path: Path) -> None:
    folder = shutil.copytree(made, tmp_path / "https")
    found = certify(folder, (*NAMES, "bank.example", "203.0.113.7", "not a name"), NOW)
    assert found.left_out == ("203.0.113.7", "bank.example", "not a name")
    assert _shaken(_context(found.pem), folder / "house-certificate.crt", "barn.local")


def test_a_name_of_the_household_s_own_is_in_a_new_authority(tmp_path: Path) -> None:
    found = certify(tmp_path / "https", ("holding.example", "127.0.0.1", "203.0.113.7"), NOW)
    assert (found.left_out, found.new_authority) == ((), True)
    assert _shaken(_context(found.pem), tmp_path / "https" / "house-certificate.crt", "203.0.113.7")
    assert _shaken(_context(found.pem), tmp_path / "https" / "house-certificate.crt", "holding.example")


def test_an_authority_at_its_end_is_followed_by_another(made: Path, tmp_path: Path) -> None:
    folder = shutil.copytree(made, tmp_path / "https")
    found = certify(folder, NAMES, NOW + timedelta(days=3653 - 20))
    assert found.new_authority
    leaf(folder).verify_directly_issued_by(root(folder))


@pytest.mark.parametrize("text", [b"", b"-----BEGIN CERTIFICATE-----\nnothing\n-----END CERTIFICATE-----\n"])
def test_an_authority_that_is_damaged_is_said_and_not_replaced(made: Path, tmp_path: Path, text: bytes) -> None:
    folder = shutil.copytree(made, tmp_path / "https")
    (folder / "authority.pem").write_bytes(text)
    with pytest.raises(DataFolderError, match="Take it away"):
        certify(folder, NAMES, NOW)
    assert (folder / "authority.pem").read_bytes() == text


def test_a_certificate_that_is_damaged_is_made_anew(made: Path, tmp_path: Path) -> None:
    folder = shutil.copytree(made, tmp_path / "https")
    (folder / "house.pem").write_bytes(b"half a fi")
    certify(folder, NAMES, NOW)
    leaf(folder).verify_directly_issued_by(root(folder))


def test_a_new_address_is_answered_for_while_it_serves(tmp_path: Path) -> None:
    names = ["127.0.0.1"]
    tls = Tls(tmp_path / "https", lambda: names)
    context = _context(tls.certified.pem)
    ca = tmp_path / "https" / "house-certificate.crt"
    with pytest.raises(ssl.SSLCertVerificationError):
        _shaken(context, ca, "10.0.0.9")
    names.append("10.0.0.9")
    with tls.renewing(context, every=0.01):
        for _ in range(500):
            if tls.certified.left_out == () and len(names) == 2 and _says(tls.certified.pem, "10.0.0.9"):
                break
            threading.Event().wait(0.01)
    tls.renew(context)
    assert _shaken(context, ca, "10.0.0.9")


def _says(pem: Path, number: str) -> bool:
    one = x509.load_pem_x509_certificate(pem.read_bytes())
    names = one.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    return ip_address(number) in names.get_values_for_type(x509.IPAddress)


def test_what_it_says_at_start(tmp_path: Path) -> None:
    said: list[str] = []
    Tls(tmp_path / "https", lambda: ["127.0.0.1"]).tell(said.append)
    assert "each phone has to be told once" in said[0]
    Tls(tmp_path / "https", lambda: ["127.0.0.1", "203.0.113.7"]).tell(said.append)
    text = "\n".join(said)
    assert "203.0.113.7" in text
    assert "PRIVATE" not in text
