"""Servers for the tests of optional links, each run as a process of its own: ``python instrument_servers.py KIND ...``.

Every server prints one line with its port once it is ready, and ends when its input closes.
"""

from __future__ import annotations

import asyncio
import socket
import sys
from pathlib import Path
from typing import Any

URI = "urn:hollin-reach:test-server"


def free_port() -> int:
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        return int(found.getsockname()[1])


async def orders() -> Any:
    """Lines of the standard input, one after the other."""
    loop = asyncio.get_running_loop()
    reader = asyncio.StreamReader()
    await loop.connect_read_pipe(lambda: asyncio.StreamReaderProtocol(reader), sys.stdin)
    while line := await reader.readline():
        yield line.decode().split()


async def broker(port: int) -> None:
    """An MQTT broker that lets everybody in."""
    from amqtt.broker import Broker

    plugins = {"amqtt.plugins.authentication.AnonymousAuthPlugin": {"allow_anonymous": True}}
    config = {"listeners": {"default": {"type": "tcp", "bind": f"127.0.0.1:{port}"}}, "plugins": plugins}
    served = Broker(config)
    await served.start()
    print(port, flush=True)
    async for _ in orders():
        pass
    await served.shutdown()


async def controller(port: int, folder: str, user: str, password: str) -> None:
    """An OPC UA server with the position of an axis; orders ``set VALUE`` and ``bad`` change it.

    It lets in everybody without a name, and the user only with the password.
    """
    from asyncua import Server, ua
    from asyncua.crypto.permission_rules import SimpleRoleRuleset, User, UserRole
    from asyncua.server.user_managers import UserManager

    class OneUser(UserManager):
        def get_user(self, iserver: Any, username: Any = None, password: Any = None, certificate: Any = None) -> Any:
            known = username is None or (username, password) == (user, secret)
            return User(role=UserRole.User) if known else None

    secret = password
    server = Server(user_manager=OneUser())
    await server.init()
    server.set_endpoint(f"opc.tcp://127.0.0.1:{port}/controller")
    await server.set_application_uri(URI)
    policies = [ua.SecurityPolicyType.NoSecurity, ua.SecurityPolicyType.Basic256Sha256_SignAndEncrypt]
    server.set_security_policy(policies, SimpleRoleRuleset())
    await server.load_certificate(str(Path(folder) / "server.der"))
    await server.load_private_key(str(Path(folder) / "server.pem"))
    server.set_security_IDs(["Anonymous", "Username"])
    space = await server.register_namespace("urn:hollin-reach")
    axis = await server.nodes.objects.add_object(space, "Z")
    actual = await axis.add_variable(ua.NodeId("Z.Actual", space), "Actual", 1200.5)
    async with server:
        print(port, flush=True)
        async for order in orders():
            if order[0] == "set":
                await actual.write_value(float(order[1]))
            else:
                await actual.write_value(ua.DataValue(StatusCode=ua.StatusCode(ua.StatusCodes.BadSensorFailure)))


def main(kind: str, *given: str) -> None:
    port = free_port()
    asyncio.run(broker(port) if kind == "broker" else controller(port, *given))


if __name__ == "__main__":
    main(*sys.argv[1:])
