"""Laws that must hold for every value: each test states one of them."""
