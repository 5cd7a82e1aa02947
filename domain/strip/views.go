package strip

// views are the ways to look at a setup: by each dimension alone, by two of them, whole. Pieces that are alike in a view leave
// in blocks, and between two blocks there is a change of at least one of its dimensions.
var views = [...]func(setup) setup{
	func(x setup) setup { return setup{Zone: x.Zone} },
	func(x setup) setup { return setup{Access: x.Access} },
	func(x setup) setup { return setup{Tool: x.Tool} },
	func(x setup) setup { return setup{Zone: x.Zone, Access: x.Access} },
	func(x setup) setup { return setup{Zone: x.Zone, Tool: x.Tool} },
	func(x setup) setup { return setup{Access: x.Access, Tool: x.Tool} },
	func(x setup) setup { return x },
}

// leastWeighed is the least that changes come to, weighed, where each view has at least so many: of zone, access and tool
// alone, and of those that change one of two or of all three. A change of zone weighs more than one of access and of tool
// together, and one of access more than one of tool; so it is never worth while to have more of the heavier than it needs
// alone, to have fewer of the lighter.
func leastWeighed(least [len(views)]int) int {
	zone := least[0]
	access := max(least[1], least[3]-zone)
	tool := max(least[2], least[4]-zone, least[5]-access, least[6]-zone-access)
	return zoneWeighs*zone + accessWeighs*access + toolWeighs*tool
}
