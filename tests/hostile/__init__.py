"""Files from people who mean harm: public collections of such texts, through the whole program."""
