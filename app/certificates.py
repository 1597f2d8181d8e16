"""A house's own authority and certificate, so that its pages can be read over https without anybody outside.

The authority is made once and lasts ten years; phones are told to trust it. It may speak only for ``.local``, this
machine's name and the addresses that a house hands out itself: a key that leaks can't pretend to be a bank. The
certificate under it is renewed by itself. Keys lie beside the records, readable to their owner only.

Source: RFC 5280 (4.2.1.6 names, 4.2.1.10 name constraints, 4.2.1.12 what the key is for); RFC 6762 (.local); RFC 1918,
RFC 4193, RFC 3927, RFC 4291 (addresses that are the house's own). 397 days: from memory, what phones take without
question (825 for an authority that the user added; 398 is the stricter).
"""

import os
import re
from collections.abc import Iterable
from datetime import datetime, timedelta
from ipaddress import IPv4Address, IPv4Network, IPv6Address, IPv6Network, ip_address, ip_network
from pathlib import Path
from typing import NamedTuple

from cryptography import x509
from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from app.errors import DataFolderError

AUTHORITY_DAYS = 3653
LEAF_DAYS = 397
RENEW_DAYS = 30
"""The certificate is made anew so many days before its end."""
BACKDATED = timedelta(days=1)
"""A phone whose clock is behind must not take the certificate for one of tomorrow."""
PRIVATE = tuple(
    ip_network(block)
    for block in (
        "10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "127.0.0.0/8",
        "fc00::/7", "fe80::/10", "::1/128",
    )
)  # fmt: skip

AUTHORITY, HOUSE, PUBLIC = "authority.pem", "house.pem", "house-certificate.crt"
"""In the folder: the authority with its key, the certificate with its key, and the authority alone to give out."""
_NAME = re.compile(r"(?=.{1,253}$)[a-z0-9_]([a-z0-9_-]{0,62})(\.[a-z0-9_]([a-z0-9_-]{0,62}))*")

Address = IPv4Address | IPv6Address


class Certified(NamedTuple):
    """What to serve with: ``pem`` holds certificate and key. ``left_out`` are names the authority may not speak for.

    ``number`` tells one certificate from the next; ``print_`` is the SHA-256 of the authority, as phones show it.
    """

    pem: Path
    number: int
    until: datetime
    print_: str
    left_out: tuple[str, ...]
    new_authority: bool


class _Pair(NamedTuple):
    certificate: x509.Certificate
    key: ec.EllipticCurvePrivateKey


def certify(folder: Path, names: Iterable[str], now: datetime) -> Certified:
    """Have a certificate for these names and addresses, made or renewed where there is none that will do.

    Raises: DataFolderError when the folder can't be written, or the authority in it can't be read.
    """
    wanted = sorted({name.lower().strip("[]").rstrip(".").partition("%")[0] for name in names} - {""})
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        authority, made = _authority(folder, wanted, now)
        mine = [name for name in wanted if _may_speak_for(authority.certificate, name)]
        house = _kept(folder / HOUSE)
        if house is None or not _will_do(house.certificate, authority.certificate, mine, now):
            house = _leaf(authority, mine, now)
            _put(folder / HOUSE, _pem(house), 0o600)
        _put(folder / PUBLIC, authority.certificate.public_bytes(serialization.Encoding.DER), 0o644)
        for name in (AUTHORITY, HOUSE):
            (folder / name).chmod(0o600)
    except OSError as error:
        raise DataFolderError(f"The house’s certificate can't be kept in {folder} ({error.strerror}).") from error
    return Certified(
        folder / HOUSE,
        house.certificate.serial_number,
        house.certificate.not_valid_after_utc,
        authority.certificate.fingerprint(hashes.SHA256()).hex(":").upper(),
        tuple(name for name in wanted if name not in mine),
        made,
    )


# ── The authority ─────────────────────────────────────────────────────────────────────────────────────────────────


def _authority(folder: Path, wanted: Iterable[str], now: datetime) -> tuple[_Pair, bool]:
    """The authority of this house, and whether it was just made: at first, and when its ten years are nearly over."""
    path = folder / AUTHORITY
    kept = _kept(path)
    if kept is None and path.exists():
        raise DataFolderError(
            f"{path} can't be read as this house’s authority. Take it away to have a new one made;"
            " the phones must then be told to trust that one."
        )
    if kept is not None and now + timedelta(days=RENEW_DAYS) < kept.certificate.not_valid_after_utc:
        return kept, False
    made = _new_authority(wanted, now)
    _put(path, _pem(made), 0o600)
    return made, True


def _new_authority(names: Iterable[str], now: datetime) -> _Pair:
    key = ec.generate_private_key(ec.SECP256R1())
    named, numbers = ["local", "localhost"], list(PRIVATE)
    for name in names:
        address = _address(name)
        if address is None and _NAME.fullmatch(name) and not name.endswith(".local"):
            named.append(name)
        elif address is not None and not any(address in block for block in PRIVATE):
            numbers.append(ip_network(address))  # a house whose numbers are the world's: this one alone
    permitted: list[x509.GeneralName] = [x509.DNSName(name) for name in dict.fromkeys(named)]
    permitted += [x509.IPAddress(block) for block in numbers]
    called = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, f"Twelvemonth, this house only, {now:%Y-%m-%d}")])
    identifier = x509.SubjectKeyIdentifier.from_public_key(key.public_key())
    certificate = (
        _builder(called, called, key, now, now + timedelta(days=AUTHORITY_DAYS))
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(signs=True), critical=True)
        .add_extension(x509.NameConstraints(permitted, None), critical=True)
        .add_extension(identifier, critical=False)
        .sign(key, hashes.SHA256())
    )
    return _Pair(certificate, key)


def _may_speak_for(authority: x509.Certificate, name: str) -> bool:
    """Whether a name lies within what the authority is held to (RFC 5280, 4.2.1.10)."""
    subtrees = authority.extensions.get_extension_for_class(x509.NameConstraints).value.permitted_subtrees or ()
    address = _address(name)
    if address is None:
        within = [tree.value for tree in subtrees if isinstance(tree, x509.DNSName)]
        return bool(_NAME.fullmatch(name)) and any(name == one or name.endswith(f".{one}") for one in within)
    blocks = [tree.value for tree in subtrees if isinstance(tree, x509.IPAddress)]
    return any(isinstance(block, IPv4Network | IPv6Network) and address in block for block in blocks)


# ── The certificate ───────────────────────────────────────────────────────────────────────────────────────────────


def _leaf(authority: _Pair, names: Iterable[str], now: datetime) -> _Pair:
    key = ec.generate_private_key(ec.SECP256R1())
    alternatives = [_general(name) for name in names]
    called = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "Twelvemonth")])
    ends = min(now - BACKDATED + timedelta(days=LEAF_DAYS), authority.certificate.not_valid_after_utc)
    issuer = authority.certificate.extensions.get_extension_for_class(x509.SubjectKeyIdentifier).value
    own = x509.SubjectKeyIdentifier.from_public_key(key.public_key())
    certificate = (
        _builder(called, authority.certificate.subject, key, now, ends)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(signs=False), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.SubjectAlternativeName(alternatives), critical=False)
        .add_extension(own, critical=False)
        .add_extension(x509.AuthorityKeyIdentifier.from_issuer_subject_key_identifier(issuer), critical=False)
        .sign(authority.key, hashes.SHA256())
    )
    return _Pair(certificate, key)


def _will_do(leaf: x509.Certificate, authority: x509.Certificate, names: Iterable[str], now: datetime) -> bool:
    """Whether a certificate holds for a while yet, says these names and no others, and is of this authority."""
    try:
        leaf.verify_directly_issued_by(authority)
        said = leaf.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    except (ValueError, TypeError, InvalidSignature, x509.ExtensionNotFound):
        return False
    lasts = leaf.not_valid_before_utc <= now < leaf.not_valid_after_utc - timedelta(days=RENEW_DAYS)
    return lasts and set(said) == {_general(name) for name in names}


def _builder(
    subject: x509.Name, issuer: x509.Name, key: ec.EllipticCurvePrivateKey, now: datetime, ends: datetime
) -> x509.CertificateBuilder:
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - BACKDATED)
        .not_valid_after(ends)
    )


def _usage(*, signs: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not signs, key_cert_sign=signs, crl_sign=signs, content_commitment=False,
        key_encipherment=False, data_encipherment=False, key_agreement=False, encipher_only=False, decipher_only=False,
    )  # fmt: skip


def _address(name: str) -> Address | None:
    try:
        return ip_address(name)
    except ValueError:
        return None


def _general(name: str) -> x509.GeneralName:
    address = _address(name)
    return x509.DNSName(name) if address is None else x509.IPAddress(address)


# ── On disk ───────────────────────────────────────────────────────────────────────────────────────────────────────


def _kept(path: Path) -> _Pair | None:
    """A certificate and its key, None where there are none or they don't belong together."""
    try:
        text = path.read_bytes()
    except FileNotFoundError:
        return None
    try:
        certificate = x509.load_pem_x509_certificate(text)
        key = serialization.load_pem_private_key(text, None)
    except (ValueError, TypeError):
        return None
    if not isinstance(key, ec.EllipticCurvePrivateKey) or key.public_key() != certificate.public_key():
        return None
    return _Pair(certificate, key)


def _pem(pair: _Pair) -> bytes:
    key = pair.key.private_bytes(
        serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
    )
    return pair.certificate.public_bytes(serialization.Encoding.PEM) + key


def _put(path: Path, content: bytes, mode: int) -> None:
    """Write a file whole or not at all; it is never, not even for a moment, readable to more than ``mode`` says."""
    passing = path.with_name(f".{path.name}.new")
    passing.unlink(missing_ok=True)
    with os.fdopen(os.open(passing, os.O_WRONLY | os.O_CREAT | os.O_EXCL, mode), "wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())
    passing.replace(path)
