"""The connection between browser and kernel asks for no delay before it connects."""

from coldbench.quick_connection import QuickConnection


def test_no_delay_is_asked_for_before_connecting(monkeypatch):
    """In this order, and the stock connection does the rest."""
    calls = []

    class Handler:
        def set_nodelay(self, value):
            calls.append(("nodelay", value))

    stock = QuickConnection.__mro__[1]
    monkeypatch.setattr(stock, "connect", lambda self: calls.append("connect") or "done")
    connection = QuickConnection.__new__(QuickConnection)
    monkeypatch.setattr(QuickConnection, "websocket_handler", Handler(), raising=False)
    assert connection.connect() == "done"
    assert calls == [("nodelay", True), "connect"]
