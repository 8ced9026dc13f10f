"""What a piece of stock weighs, from its dimensions."""
