"""Pictures that any render engine makes: members shaded, words and numbers burnt in."""
