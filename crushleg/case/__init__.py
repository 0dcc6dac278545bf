"""What was asked: quantities, frozen records, the TOML reader, the material shelf."""
