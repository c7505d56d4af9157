"""Practice on paper and screen: the pictures of an exercise, and the pages of questions and of answers."""
