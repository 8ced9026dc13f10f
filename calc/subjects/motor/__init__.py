"""What a rubber motor may be wound to, holds and weighs."""
