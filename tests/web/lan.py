"""A workshop that is open to the network, and devices that are paired with it."""

from __future__ import annotations

from dataclasses import dataclass, field

from starlette.testclient import TestClient

from firstpull.bench.shop import Shop
from firstpull.web.app import make_app
from firstpull.web.doors import Door, Through
from firstpull.web.gate import COOKIE, Gate
from firstpull.web.roles import Role

BENCH_HOST, LAN_HOST = "127.0.0.1:8765", "192.168.7.5:8766"


@dataclass
class Network:
    """Both doors of one workshop."""

    shop: Shop
    https: bool = False
    gate: Gate = field(init=False)

    def __post_init__(self) -> None:
        lan = Door(("192.168.7.5", "bench.local"), 8766, lan=True, https=self.https, fingerprint="AB:CD")
        self.gate = Gate(bench=Door(("127.0.0.1", "localhost"), 8765), lan=lan)
        self.app = make_app(self.shop, gate=self.gate)

    def _client(self, door: Door, address: str, host: str = "192.168.7.20") -> TestClient:
        client = TestClient(
            Through(self.app, door), base_url=address, headers={"origin": address}, follow_redirects=False,
            client=(host, 50000),
        )  # fmt: skip
        client.headers["x-csrf"] = self.gate.seal.form_token("stranger")
        return client

    def bench(self) -> TestClient:
        """The bench screen."""
        client = self._client(self.gate.bench, f"http://{BENCH_HOST}", "127.0.0.1")
        client.headers["x-csrf"] = self.gate.seal.form_token("here")
        return client

    def stranger(self, host: str = "192.168.7.20") -> TestClient:
        """A device that nobody let in."""
        assert self.gate.lan is not None
        return self._client(self.gate.lan, f"{'https' if self.https else 'http'}://{LAN_HOST}", host)

    def device(self, role: Role, name: str = "") -> TestClient:
        """A device that was let in with a role."""
        device, token = self.gate.devices.pair(name or f"a {role} phone", role, "Wren")
        client = self.stranger()
        client.cookies.set(COOKIE, self.gate.seal.cookie(device.id, token))
        client.headers["x-csrf"] = self.gate.seal.form_token(f"device {device.id}")
        client.headers["x-test-device"] = device.id  # for tests that turn it away
        return client
