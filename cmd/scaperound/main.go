// Command scaperound runs the shop: the server, the demo and what surrounds them.
package main

func main() {}
