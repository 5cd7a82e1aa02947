// Command unpick keeps the register of a tenant's fit-out and plans how it all comes out again.
package main

func main() {}
