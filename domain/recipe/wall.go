package recipe

// wallRecipes are the recipes that build walls and what goes on them.
func wallRecipes() []recipe {
	return []recipe{
		warning(newRecipe("stud-wall", buildStudWall), warnStudWall),
	}
}
