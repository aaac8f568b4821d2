"""What the tests share: small issues, readers that are not ours, random input."""
