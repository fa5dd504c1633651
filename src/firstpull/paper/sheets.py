"""The sheets the bench can ask for. Each is drawn by the template of its name in ``templates/``."""

from dataclasses import dataclass

from firstpull.paper.parts import (
    Caution,
    Contacted,
    Fact,
    Head,
    Measured,
    Node,
    Option,
    PencilCheck,
    Picture,
    PriceLine,
    Proof,
    Renewed,
    Signer,
    Total,
)


@dataclass(frozen=True)
class Tag:
    """Tags to cut out: one for the machine, the owner's stub, and one for each loose thing that came with it."""

    head: Head
    danger: str | None = None
    fuel: str | None = None
    place: str | None = None
    promised: str | None = None
    link: str | None = None
    left_with: tuple[str, ...] = ()


@dataclass(frozen=True)
class Receipt:
    """What the owner takes home at drop-off: what was left, what was said, what was agreed, on what terms."""

    head: Head
    owner: tuple[Fact, ...] = ()
    machine: tuple[Fact, ...] = ()
    words: str | None = None
    told: tuple[str, ...] = ()
    left_with: tuple[str, ...] = ()
    condition: tuple[str, ...] = ()
    agreed: tuple[Fact, ...] = ()
    cautions: tuple[Caution, ...] = ()
    terms: tuple[str, ...] = ()
    signers: tuple[Signer, ...] = ()
    link: str | None = None


@dataclass(frozen=True)
class Estimate:
    """What was found, how sure it is, the ways to go on, and what each costs at most."""

    head: Head
    found: str | None = None
    certainty: str | None = None
    proofs: tuple[Proof, ...] = ()
    options: tuple[Option, ...] = ()
    worth: str | None = None
    declined: str | None = None
    valid_until: str | None = None
    notes: tuple[str, ...] = ()
    cautions: tuple[Caution, ...] = ()
    signers: tuple[Signer, ...] = ()


@dataclass(frozen=True)
class ApprovalSlip:
    """Who said yes, to what, up to what sum, when and how. Printed twice: one for the owner, one for the file."""

    head: Head
    approves: str
    up_to: str | None = None
    work: tuple[str, ...] = ()
    who: str | None = None
    how: str | None = None
    when: str | None = None
    beyond: str | None = None
    terms: tuple[str, ...] = ()
    signers: tuple[Signer, ...] = ()


@dataclass(frozen=True)
class WorkSheet:
    """A job on paper, to be filled in with a pencil and typed back later."""

    head: Head
    cautions: tuple[Caution, ...] = ()
    facts: tuple[Fact, ...] = ()
    off: tuple[str, ...] = ()
    checks: tuple[PencilCheck, ...] = ()
    repairs: tuple[str, ...] = ()
    settings: tuple[Fact, ...] = ()
    release: tuple[str, ...] = ()
    spare_lines: int = 4


@dataclass(frozen=True)
class Bill:
    """What was done, with what parts, what it costs, and what is promised about it."""

    head: Head
    number: str | None = None
    to: tuple[str, ...] = ()
    facts: tuple[Fact, ...] = ()
    lines: tuple[PriceLine, ...] = ()
    totals: tuple[Total, ...] = ()
    paid: str | None = None
    warranty: tuple[str, ...] = ()
    measured: tuple[Measured, ...] = ()
    fuel: str | None = None
    refused: tuple[Caution, ...] = ()
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class HandOver:
    """What goes home with a mended machine."""

    head: Head
    headline: str | None = None
    wrong: tuple[str, ...] = ()
    proofs: tuple[Proof, ...] = ()
    measured: tuple[Measured, ...] = ()
    renewed: tuple[Renewed, ...] = ()
    refused: tuple[Caution, ...] = ()
    fuel: str | None = None
    cautions: tuple[Caution, ...] = ()
    storing: tuple[str, ...] = ()
    warranty: tuple[str, ...] = ()
    signers: tuple[Signer, ...] = ()
    pictures: tuple[Picture, ...] = ()


@dataclass(frozen=True)
class Returned:
    """What goes home with a machine that was not mended: its state, what is missing, and what is unsafe about it."""

    head: Head
    reason: str | None = None
    state: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    loose: tuple[str, ...] = ()
    lead: str | None = None
    fuel: str | None = None
    unsafe: tuple[Caution, ...] = ()
    lines: tuple[PriceLine, ...] = ()
    totals: tuple[Total, ...] = ()
    reassembly: str | None = None
    statement: str | None = None
    signers: tuple[Signer, ...] = ()


@dataclass(frozen=True)
class AbandonedNotice:
    """A letter to an owner who does not come back, with the local rule it rests on and the calls that went before."""

    head: Head
    to: tuple[str, ...] = ()
    says: str | None = None
    rule: str | None = None
    contacted: tuple[Contacted, ...] = ()
    lines: tuple[PriceLine, ...] = ()
    totals: tuple[Total, ...] = ()
    by: str | None = None
    then: tuple[str, ...] = ()
    collect: tuple[str, ...] = ()
    posting: tuple[Fact, ...] = ()
    signers: tuple[Signer, ...] = ()


@dataclass(frozen=True)
class BenchChart:
    """A strategy for the wall: a tree of steps, read from left to right."""

    head: Head
    title: str
    root: Node
    says: str | None = None
    cautions: tuple[Caution, ...] = ()
    notes: tuple[str, ...] = ()
