"""Plans and sections to scale; the member schedule, the cut list, the list to buy."""
