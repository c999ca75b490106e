"""A connection between browser and kernel that sends small messages at once.

The stock connection leaves the system free to hold a small message back until the one before it is
acknowledged, which takes 40 ms. A live picture is such a message: `QuickConnection` asks for no delay.
A server uses it when its ``ServerApp.kernel_websocket_connection_class`` is
``coldbench.quick_connection.QuickConnection``.
"""

from __future__ import annotations

from jupyter_server.services.kernels.connection.channels import ZMQChannelsWebsocketConnection


class QuickConnection(ZMQChannelsWebsocketConnection):
    """The stock connection, without the delay for small messages.

    Source
    ------
    RFC 896 (small messages are held back) and RFC 1122, section 4.2.3.2 (delayed acknowledgement).
    """

    def connect(self):
        """Ask for no delay, then connect as the stock connection does.

        Returns
        -------
        awaitable
            Ends when the connection stands

        Source
        ------
        Arrangement of this project.
        """
        self.websocket_handler.set_nodelay(True)
        return super().connect()
