"""Pages of the orders room. Who may open which: hookledger/roles.py."""
