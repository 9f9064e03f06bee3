"""What tests share: small rigs, small rules, readers of published files."""
