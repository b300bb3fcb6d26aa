package main

// habits prints which habits of pianists hold on works they were not taken
// from, and how near the tempos that are guessed come to what is played.
func habits(c *check) tally {
	_, err := c.openly(nil, "go", "test", "-count=1", "-v", "-run=^(TestHabits|TestGuessedTempos)$", "./realize")
	return one(err)
}
