"""Season or neck: two cards, the identity, the wood's moisture."""
